import './settings.css'
import { KEY_GROUPS } from '../app/key-groups.ts'
import { KeyboardList } from '../app/keyboard-list.tsx'
import { useSettings } from '../app/use-settings.ts'
import { useCall } from '../host/use-call.ts'
import { Answer } from '../look/answer.tsx'
import { Choice } from '../look/choice.tsx'
import { Notice } from '../look/notice.tsx'
import { ArrivalSettings } from './arrival-settings.tsx'
import { LibrarySettings } from './library-settings.tsx'
import { RemovedThings } from './removed-things.tsx'
import { RuleBook } from './rule-book.tsx'
import { TextSize } from './text-size.tsx'

/** How the program looks and counts, where its library lies and what it works with. */
export function SettingsScreen() {
  const { settings, change, failure } = useSettings()
  return (
    <div className="screen">
      <title>Settings, Tiphold</title>
      <div className="screen-head">
        <h1>Settings</h1>
      </div>
      {failure === null ? null : <Notice tone="bad">{failure}</Notice>}
      <section className="settings-part" aria-labelledby="settings-look">
        <h2 id="settings-look">Look</h2>
        <div className="settings-fields">
          <Choice
            label="Theme"
            options={[
              { key: 'as-system', name: 'Same as the system' },
              { key: 'light', name: 'Light' },
              { key: 'dark', name: 'Dark' },
            ]}
            selected={settings.theme}
            onSelect={(theme) => change({ theme })}
          />
          <TextSize scale={settings.textScale} onChange={(textScale) => change({ textScale })} />
        </div>
      </section>
      <section className="settings-part" aria-labelledby="settings-units">
        <h2 id="settings-units">Units and rules</h2>
        <div className="settings-fields">
          <Choice
            label="Lengths and weights"
            options={[
              { key: 'metric', name: 'cm, m, kg' },
              { key: 'imperial', name: 'in, ft, lb' },
            ]}
            selected={settings.units}
            onSelect={(units) => change({ units })}
          />
          <RuleBook />
        </div>
      </section>
      <ArrivalSettings />
      <LibrarySettings />
      <RemovedThings />
      <About />
      <section className="settings-part" aria-labelledby="settings-keys">
        <h2 id="settings-keys">Keyboard shortcuts</h2>
        <KeyboardList groups={KEY_GROUPS} />
      </section>
    </div>
  )
}

function About() {
  const engines = useCall('engines.report', {}, { staleTime: Infinity })
  return (
    <section className="settings-part" aria-labelledby="settings-about">
      <h2 id="settings-about">About</h2>
      <Answer of={engines}>
        {(lines) => (
          <dl className="engines">
            {lines.map(({ job, inUse, why }) => (
              <div key={job}>
                <dt>{job}</dt>
                <dd>
                  <span>{inUse}</span>
                  <span className="soft small">{why}</span>
                </dd>
              </div>
            ))}
          </dl>
        )}
      </Answer>
    </section>
  )
}

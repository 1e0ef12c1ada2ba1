import { Fragment } from 'react'
import type { KeyGroup } from './keyboard-map.ts'

/** What the keys do, group by group. */
export function KeyboardList({ groups }: { readonly groups: readonly KeyGroup[] }) {
  return (
    <div className="keyboard-list">
      {groups.map(({ where, uses }) => (
        <section key={where}>
          <h3>{where}</h3>
          <dl>
            {uses.map(({ keys, does }) => (
              <div key={does}>
                <dt>
                  {keys.map((combination, index) => (
                    <Fragment key={combination}>
                      {index > 0 ? <span className="soft"> or </span> : null}
                      <Combination keys={combination} />
                    </Fragment>
                  ))}
                </dt>
                <dd>{does}</dd>
              </div>
            ))}
          </dl>
        </section>
      ))}
    </div>
  )
}

function Combination({ keys }: { readonly keys: string }) {
  // A lone "+" is the key itself.
  const parts = keys === '+' ? ['+'] : keys.split('+')
  return (
    <span className="combination">
      {parts.map((key) => (
        <kbd key={key}>{key}</kbd>
      ))}
    </span>
  )
}

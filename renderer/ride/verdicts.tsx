import { Eye } from 'lucide-react'
import { Menu, MenuItem, MenuTrigger, Popover } from 'react-aria-components'
import type { Corrections, ZoneByEye, ZoneName } from '../../analysis/ride/corrections.ts'
import type { Ride } from '../../analysis/ride/ride.ts'
import type { Units } from '../../analysis/words/units.ts'
import { leavingFirst, type VerdictCard, verdictCards } from '../../analysis/words/verdict-cards.ts'
import { VerdictShape } from '../figures/verdict-shape.tsx'
import { IconButton } from '../look/button.tsx'
import { RulesInShort } from './by-the-rules.tsx'

export interface VerdictsProps {
  readonly ride: Ride
  readonly measured: Ride
  readonly units: Units
  readonly byEye: Corrections['zones']
  readonly onZone: (zone: ZoneName, verdict: ZoneByEye | null) => void
}

/** The zone that each verdict is of, in their order. */
const ZONES = [null, 'up', 'down'] as const

/** The three verdicts in a row that is always in view: a word and a shape, the colour last. */
export function Verdicts({ ride, measured, units, byEye, onZone }: VerdictsProps) {
  const before = leavingFirst(verdictCards(measured, units))
  return (
    <section className="verdicts" aria-label="Verdicts">
      {leavingFirst(verdictCards(ride, units)).map((card, k) => {
        const zone = ZONES[k] ?? null
        const isByEye = zone !== null && byEye[zone] !== undefined
        const was = before[k]!
        return (
          <article key={card.title} className="verdict-card">
            <VerdictShape shape={card.shape} />
            <div>
              <h2>{card.title}</h2>
              <p className="verdict-word">{card.word}</p>
              {was.word !== card.word || isByEye ? (
                <p className="measured-beside">
                  <span className="by-hand-mark">{isByEye ? 'By eye.' : 'By hand.'}</span> Measured: {was.word}
                </p>
              ) : null}
            </div>
            {zone === null ? null : (
              <ZoneByEyeMenu zone={zone} title={card.title} now={byEye[zone] ?? null} onZone={onZone} />
            )}
          </article>
        )
      })}
      <RulesInShort ride={ride} />
    </section>
  )
}

/** The facts behind the verdicts. */
export function VerdictFacts({ ride, units }: { readonly ride: Ride; readonly units: Units }) {
  return (
    <section className="verdict-facts" aria-label="Behind the verdicts">
      {leavingFirst(verdictCards(ride, units))
        .filter(({ sentences }) => sentences.length > 0)
        .map(({ title, sentences }: VerdictCard) => (
          <p key={title}>
            <strong>{title}.</strong> {sentences.join(' ')}
          </p>
        ))}
    </section>
  )
}

interface ZoneByEyeMenuProps {
  readonly zone: ZoneName
  readonly title: string
  readonly now: ZoneByEye | null
  readonly onZone: VerdictsProps['onZone']
}

function ZoneByEyeMenu({ zone, title, now, onZone }: ZoneByEyeMenuProps) {
  return (
    <MenuTrigger>
      <IconButton label={`Judge the ${title.toLowerCase()} by eye`}>
        <Eye aria-hidden="true" />
      </IconButton>
      <Popover placement="bottom end">
        <Menu
          aria-label={`${title} by eye`}
          onAction={(key) => onZone(zone, key === 'touched' || key === 'missed' ? key : null)}
          disabledKeys={[now ?? 'measured']}
        >
          <MenuItem id="touched">I see it touched</MenuItem>
          <MenuItem id="missed">I see it missed</MenuItem>
          <MenuItem id="measured">Undo this correction</MenuItem>
        </Menu>
      </Popover>
    </MenuTrigger>
  )
}

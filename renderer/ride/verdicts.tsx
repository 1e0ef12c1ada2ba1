import { Eye } from 'lucide-react'
import { Button as AriaButton, Menu, MenuItem, MenuTrigger, Popover } from 'react-aria-components'
import type { Corrections, ZoneByEye, ZoneName } from '../../analysis/ride/corrections.ts'
import type { Ride } from '../../analysis/ride/ride.ts'
import type { Units } from '../../analysis/words/units.ts'
import { type VerdictCard, verdictCards } from '../../analysis/words/verdict-cards.ts'
import { VerdictShape } from '../figures/verdict-shape.tsx'

export interface VerdictsProps {
  readonly ride: Ride
  readonly measured: Ride
  readonly units: Units
  readonly byEye: Corrections['zones']
  readonly onZone: (zone: ZoneName, verdict: ZoneByEye | null) => void
}

const ZONES = ['up', 'down', null] as const

/** The three verdicts: a word and a shape, the colour last, and the facts behind them. */
export function Verdicts({ ride, measured, units, byEye, onZone }: VerdictsProps) {
  const before = verdictCards(measured, units)
  return (
    <section className="verdicts" aria-label="Verdicts">
      {verdictCards(ride, units).map((card, k) => {
        const zone = ZONES[k] ?? null
        const was = before[k]
        const isChanged = was !== undefined && was.word !== card.word
        return (
          <article key={card.title} className="verdict-card">
            <header>
              <h3>{card.title}</h3>
              {zone === null ? null : (
                <ZoneByEyeMenu zone={zone} title={card.title} now={byEye[zone] ?? null} onZone={onZone} />
              )}
            </header>
            <p className="verdict-word">
              <VerdictShape shape={card.shape} />
              {card.word}
            </p>
            <Facts card={card} />
            {isChanged || (zone !== null && byEye[zone] !== undefined) ? (
              <p className="measured-beside">
                <span className="by-hand-mark">
                  {zone !== null && byEye[zone] !== undefined ? 'By eye.' : 'By hand.'}
                </span>{' '}
                Measured: {was?.word}
              </p>
            ) : null}
          </article>
        )
      })}
    </section>
  )
}

function Facts({ card }: { readonly card: VerdictCard }) {
  if (card.sentences.length === 0) return null
  return <p className="verdict-facts">{card.sentences.join(' ')}</p>
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
      <AriaButton className="button by-eye" data-look="icon" aria-label={`Judge the ${title.toLowerCase()} by eye`}>
        <Eye aria-hidden="true" />
      </AriaButton>
      <Popover placement="bottom end">
        <Menu
          aria-label={`${title} by eye`}
          onAction={(key) => onZone(zone, key === 'touched' || key === 'missed' ? key : null)}
          disabledKeys={[now ?? 'measured']}
        >
          <MenuItem id="touched">I see it touched</MenuItem>
          <MenuItem id="missed">I see it missed</MenuItem>
          <MenuItem id="measured">As measured</MenuItem>
        </Menu>
      </Popover>
    </MenuTrigger>
  )
}

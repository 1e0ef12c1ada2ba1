import { Undo2 } from 'lucide-react'
import { Button as AriaButton } from 'react-aria-components'
import { CORRECTABLE_EVENTS, type CorrectableEvent } from '../../analysis/ride/corrections.ts'
import type { Ride } from '../../analysis/ride/ride.ts'
import { IconButton } from '../look/button.tsx'
import { EVENT_NAMES } from '../../analysis/words/event-names.ts'
import { momentWithMargin } from '../words/moments.ts'

export interface MomentsListProps {
  readonly ride: Ride
  readonly measured: Ride
  readonly selected: CorrectableEvent | null
  readonly isByHand: (event: CorrectableEvent) => boolean
  readonly onSelect: (event: CorrectableEvent) => void
  readonly onRevert: (event: CorrectableEvent) => void
}

/** The moments of the ride, measured or not: each can be looked at and set by hand. */
export function MomentsList({ ride, measured, selected, isByHand, onSelect, onRevert }: MomentsListProps) {
  return (
    <ul className="moments">
      {CORRECTABLE_EVENTS.map((event) => {
        const now = ride.events[event]
        const isSet = isByHand(event)
        const { name } = EVENT_NAMES[event]
        return (
          <li key={event} data-selected={event === selected || undefined}>
            <AriaButton className="moment" aria-pressed={event === selected} onPress={() => onSelect(event)}>
              <span>{name}</span>
              <span className={now.kind === 'withheld' ? 'moment-missing' : 'moment-time'}>
                {momentWithMargin(now)}
              </span>
              {now.kind === 'withheld' ? <span className="moment-why">{now.detail}</span> : null}
              {isSet ? (
                <span className="moment-why">
                  <span className="by-hand-mark">By hand.</span> Measured: {momentWithMargin(measured.events[event])}
                </span>
              ) : null}
            </AriaButton>
            {isSet ? (
              <IconButton label={`Undo this correction: ${name}`} onPress={() => onRevert(event)}>
                <Undo2 aria-hidden="true" />
              </IconButton>
            ) : null}
          </li>
        )
      })}
    </ul>
  )
}

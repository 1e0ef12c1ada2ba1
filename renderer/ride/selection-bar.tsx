import { X } from 'lucide-react'
import { type CorrectableEvent, type FootfallOrigin, type HandFootfall } from '../../analysis/ride/corrections.ts'
import type { Ride, RideFootfall } from '../../analysis/ride/ride.ts'
import { lengthDisplay, type Units } from '../../analysis/words/units.ts'
import { Button, IconButton } from '../look/button.tsx'
import { Choice } from '../look/choice.tsx'
import { NumberField } from '../look/number-field.tsx'
import { EVENT_NAMES } from '../../analysis/words/event-names.ts'
import { momentInWords, momentWithMargin } from '../words/moments.ts'

export interface EventBarProps {
  readonly event: CorrectableEvent
  readonly ride: Ride
  readonly measured: Ride
  readonly isByHand: boolean
  /** The moment of the frame shown, s. */
  readonly shownS: number
  readonly onSet: () => void
  readonly onDrop: () => void
  readonly onRevert: () => void
  readonly onClose: () => void
}

/** What can be done with the moment that is chosen. */
export function EventBar(props: EventBarProps) {
  const { event, ride, measured, isByHand, shownS, onSet, onDrop, onRevert, onClose } = props
  const { name, about } = EVENT_NAMES[event]
  const now = ride.events[event]
  return (
    <section className="selection-bar" aria-label="Chosen moment">
      <div className="selection-words">
        <strong>{name}</strong> <span>{momentWithMargin(now)}</span>
        <p className="soft small">
          {isByHand ? `By hand. Measured: ${momentWithMargin(measured.events[event])}` : about}
        </p>
      </div>
      <Button onPress={onSet} isDisabled={isByHand && now.kind === 'measured' && now.value === shownS}>
        Set to this frame, {momentInWords(shownS)}
      </Button>
      <Button onPress={onDrop} isDisabled={isByHand && now.kind === 'withheld'}>
        Did not happen
      </Button>
      {isByHand ? <Button onPress={onRevert}>Undo this correction</Button> : null}
      <CloseBar onClose={onClose} />
    </section>
  )
}

export interface PawBarProps {
  readonly footfall: RideFootfall
  readonly origin: FootfallOrigin
  readonly lengthM: number
  readonly units: Units
  readonly shownS: number
  readonly onChange: (footfall: HandFootfall) => void
  readonly onStrike: () => void
  readonly onRevert: () => void
  readonly onClose: () => void
}

const LIMBS = [
  { key: 'front', name: 'Front' },
  { key: 'hind', name: 'Hind' },
] as const

/** What can be done with the paw contact that is chosen. */
export function PawContactBar(props: PawBarProps) {
  const { footfall, origin, lengthM, units, shownS, onChange, onStrike, onRevert, onClose } = props
  const { alongM, fromS, toS, limb } = footfall
  const told = lengthDisplay(units)
  const change = (changed: Partial<HandFootfall>): void => onChange({ alongM, fromS, toS, limb, ...changed })
  return (
    <section className="selection-bar" aria-label="Chosen paw contact">
      <Choice
        label="Paw"
        options={LIMBS}
        selected={limb === 'unknown' ? null : limb}
        onSelect={(key) => change({ limb: key })}
      />
      <NumberField
        label="Past the pivot"
        unit={told.sign}
        value={(alongM - lengthM / 2) * told.perSi}
        onChange={(typed) => {
          if (!Number.isNaN(typed)) change({ alongM: typed / told.perSi + lengthM / 2 })
        }}
        least={(-lengthM / 2) * told.perSi}
        most={(lengthM / 2) * told.perSi}
        decimals={told.decimals}
      />
      <span className="soft small">or click it in the film</span>
      <Button onPress={() => change({ fromS: shownS })} isDisabled={shownS >= toS || shownS === fromS}>
        Lands in this frame
      </Button>
      <Button onPress={() => change({ toS: shownS })} isDisabled={shownS <= fromS || shownS === toS}>
        Lifts in this frame
      </Button>
      <Button onPress={onStrike}>{origin.kind === 'added' ? 'Remove' : 'Not a paw'}</Button>
      {origin.kind === 'measured' ? (
        <Button onPress={onRevert} isDisabled={!origin.isChanged}>
          Undo this correction
        </Button>
      ) : null}
      <CloseBar onClose={onClose} />
    </section>
  )
}

function CloseBar({ onClose }: { readonly onClose: () => void }) {
  return (
    <IconButton label="Close" shortcut="Esc" onPress={onClose}>
      <X aria-hidden="true" />
    </IconButton>
  )
}

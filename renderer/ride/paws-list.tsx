import { Plus, Undo2 } from 'lucide-react'
import { Button as AriaButton } from 'react-aria-components'
import type { FootfallOrigin } from '../../analysis/ride/corrections.ts'
import type { Ride } from '../../analysis/ride/ride.ts'
import type { Units } from '../../analysis/words/units.ts'
import { isSamePaw, originKey, type Selection } from '../chart/chart-editing.ts'
import { footfallLine } from '../chart/chart-words.ts'
import { Button, IconButton } from '../look/button.tsx'

export interface PawsListProps {
  readonly ride: Ride
  readonly measured: Ride
  readonly origins: readonly FootfallOrigin[]
  /** Measured ones that were struck out, by their index. */
  readonly struckOut: readonly number[]
  readonly lengthM: number
  readonly units: Units
  readonly selection: Selection | null
  readonly onSelect: (origin: FootfallOrigin) => void
  readonly onAdd: () => void
  /** Puts a measured one back as it was. */
  readonly onRevert: (index: number) => void
}

/** Every paw contact, to be chosen and set by hand; struck out ones can be put back. */
export function PawsList(props: PawsListProps) {
  const { ride, measured, origins, struckOut, lengthM, units, selection, onSelect, onAdd, onRevert } = props
  return (
    <div className="paws">
      <ol>
        {ride.footfalls.map((footfall, k) => {
          const origin = origins[k]
          if (origin === undefined) return null
          const { limb, place, from, to } = footfallLine(footfall, lengthM, units)
          const isByHand = origin.kind === 'added' || origin.isChanged
          return (
            <li key={originKey(origin)} data-selected={isSamePaw(selection, origin) || undefined}>
              <AriaButton className="paw" aria-pressed={isSamePaw(selection, origin)} onPress={() => onSelect(origin)}>
                <span className="paw-limb" data-limb={footfall.limb}>
                  {limb}
                </span>
                <span>{place}</span>
                <span className="paw-times">
                  {from} to {to} s
                </span>
                {isByHand ? (
                  <span className="by-hand-mark">{origin.kind === 'added' ? 'added' : 'by hand'}</span>
                ) : null}
              </AriaButton>
              {origin.kind === 'measured' && origin.isChanged ? (
                <IconButton label="Undo this correction" onPress={() => onRevert(origin.index)}>
                  <Undo2 aria-hidden="true" />
                </IconButton>
              ) : null}
            </li>
          )
        })}
        {struckOut.map((index) => {
          const footfall = measured.footfalls[index]
          if (footfall === undefined) return null
          const { limb, place, from, to } = footfallLine(footfall, lengthM, units)
          return (
            <li key={`struck ${index}`} className="paw-struck">
              <span className="paw">
                <span className="paw-limb" data-limb={footfall.limb}>
                  {limb}
                </span>
                <s>{place}</s>
                <s className="paw-times">
                  {from} to {to} s
                </s>
                <span className="by-hand-mark">not a paw</span>
              </span>
              <IconButton label="Restore this paw" onPress={() => onRevert(index)}>
                <Undo2 aria-hidden="true" />
              </IconButton>
            </li>
          )
        })}
      </ol>
      <Button onPress={onAdd}>
        <Plus aria-hidden="true" />
        Add a paw in this frame
      </Button>
    </div>
  )
}

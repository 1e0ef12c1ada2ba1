import type { TestWeight } from '../../main/contract/clips.ts'
import type { KeptBoard } from '../../main/contract/dogs-and-boards.ts'
import { TEST_WEIGHT_KG } from '../../analysis/drop/drop-test.ts'
import { DropInPicture } from '../figures/drop-in-picture.tsx'
import { useSettings } from '../app/use-settings.ts'
import { lengthUnit, massUnit } from '../lists/lengths.ts'
import { QuantityField } from '../lists/quantity-field.tsx'
import { Notice } from '../look/notice.tsx'

export interface TestWeightFieldsProps {
  readonly weight: TestWeight
  /** Null as long as it is not chosen. */
  readonly board: KeptBoard | null
  readonly onChange: (weight: TestWeight) => void
}

/** The weight of a drop test, where it lies, and how to film it. */
export function TestWeightFields({ weight, board, onChange }: TestWeightFieldsProps) {
  const { units } = useSettings().settings
  const massIn = { ...massUnit(units), decimals: 2 }
  const lengthM = board?.shape.lengthM ?? null
  return (
    <>
      <QuantityField
        label="Weight"
        unit={massIn}
        value={weight.massKg}
        onChange={(massKg) => {
          if (massKg !== null) onChange({ ...weight, massKg })
        }}
        range={TEST_WEIGHT_KG}
        isRequired
        hint="Weigh it: 1 kg in the UK and FCI, 3 lb in AKC."
      />
      {lengthM === null ? null : (
        <QuantityField
          label="How far from the exit end"
          unit={lengthUnit(units)}
          value={weight.atM === null ? null : lengthM - weight.atM}
          onChange={(fromEndM) => onChange({ ...weight, atM: fromEndM === null ? null : lengthM - fromEndM })}
          range={{ min: 0, max: lengthM }}
          hint="The middle of the weight. Empty: the middle of the down contact."
        />
      )}
      <DropInPicture />
      <Notice>
        <ul>
          <li>Film from the side, camera still, both ends in the picture from before the weight is placed.</li>
          <li>Board at rest, weight on its place, hand away at once. Let it land and stay in the picture.</li>
          <li>No dog near. Feet and fingers clear of the board. Weigh the base down or peg it.</li>
        </ul>
      </Notice>
    </>
  )
}

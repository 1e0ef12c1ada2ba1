import { type TestWeight, USUAL_WEIGHT } from '../../main/contract/clips.ts'
import { Choice } from '../look/choice.tsx'

export interface WhatIsFilmedProps {
  /** Undefined: a dog. */
  readonly weight: TestWeight | undefined
  readonly onChange: (weight: TestWeight | undefined) => void
}

/** A dog on the board, or the weight of a drop test. */
export function WhatIsFilmed({ weight, onChange }: WhatIsFilmedProps) {
  return (
    <Choice
      label="This clip shows"
      options={[
        { key: 'dog', name: 'a dog' },
        { key: 'weight', name: 'a drop test' },
      ]}
      selected={weight === undefined ? 'dog' : 'weight'}
      onSelect={(key) => onChange(key === 'dog' ? undefined : (weight ?? USUAL_WEIGHT))}
    />
  )
}

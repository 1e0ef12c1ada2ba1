import type { TestWeight } from '../../main/contract/clips.ts'
import { Choice } from '../look/choice.tsx'

export interface WhatIsFilmedProps {
  /** Undefined: a dog. */
  readonly weight: TestWeight | undefined
  readonly onChange: (weight: TestWeight | undefined) => void
}

/** UK and FCI test with 1 kg. */
const USUAL: TestWeight = { massKg: 1, atM: null }

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
      onSelect={(key) => onChange(key === 'dog' ? undefined : (weight ?? USUAL))}
    />
  )
}

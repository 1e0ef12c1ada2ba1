import { useState } from 'react'
import type { SlowMotion } from '../../analysis/clip/slow-motion.ts'
import { SelectField } from '../look/fields.tsx'
import { NumberField } from '../look/number-field.tsx'

export interface SlowMotionChoiceProps {
  /** What the clip itself says. */
  readonly found: SlowMotion
  /** What the handler says; null: as found. */
  readonly factor: number | null
  readonly onChange: (factor: number | null) => void
}

const COMMON = [1, 2, 4, 8]

/** How much the clip is slowed, with the evidence, and the handler's last word. */
export function SlowMotionChoice({ found, factor, onChange }: SlowMotionChoiceProps) {
  const [isOther, setIsOther] = useState(factor !== null && !COMMON.includes(factor))
  return (
    <div className="slow-motion">
      <SelectField
        label="Slow motion"
        options={[
          { key: 'found', name: `Detected: ${slowedInWords(found.factor)}` },
          ...COMMON.map((one) => ({ key: String(one), name: capital(slowedInWords(one)) })),
          { key: 'other', name: 'Another factor' },
        ]}
        selected={isOther ? 'other' : factor === null ? 'found' : String(factor)}
        onSelect={(key) => {
          setIsOther(key === 'other')
          if (key === 'found') onChange(null)
          else if (key !== 'other') onChange(Number(key))
        }}
        hint={found.evidence}
      />
      {isOther ? (
        <NumberField
          label="Slow-motion factor"
          hint="Filmed at 240 frames per second and shown at 30: 8."
          value={factor ?? NaN}
          least={1}
          most={64}
          decimals={2}
          onChange={(typed) => onChange(Number.isNaN(typed) ? null : typed)}
        />
      ) : null}
    </div>
  )
}

function slowedInWords(factor: number): string {
  return factor === 1 ? 'full speed' : `slowed ${factor} times`
}

function capital(words: string): string {
  return words.slice(0, 1).toUpperCase() + words.slice(1)
}

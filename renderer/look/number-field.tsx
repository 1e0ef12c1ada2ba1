import { type KeyboardEvent, type ReactNode, useState } from 'react'
import { FieldError, Input, Label, TextField as AriaTextField } from 'react-aria-components'
import { Hint } from './fields.tsx'
import { boundsInWords, typedNumber } from './typed-number.ts'

export interface NumberFieldProps {
  readonly label: string
  /** A sentence below the field. */
  readonly hint?: ReactNode
  /** Shown inside the field and read out with the label: "cm". */
  readonly unit?: string
  /** NaN: empty. */
  readonly value: number
  /** Told once the field is left or Enter is pressed; NaN when it was emptied. Never told a number out of bounds. */
  readonly onChange: (value: number) => void
  readonly least: number
  readonly most: number
  /** Decimals that are shown; what was typed stays as it was typed. */
  readonly decimals: number
  readonly isRequired?: boolean
}

/** What was typed, as long as the value is still the one that it was typed over or gave. */
interface Typed {
  readonly text: string
  readonly over: number
}

/**
 * A number with its unit. Decimal comma and point are both read; what is no number or out of bounds stays as it is,
 * with a sentence that says what is asked for, and a form is not sent with it.
 */
export function NumberField(props: NumberFieldProps) {
  const { label, hint, unit, value, onChange, least, most, decimals, isRequired = false } = props
  const [typed, setTyped] = useState<Typed | null>(null)
  const bounds = { least, most, decimals, ...(unit === undefined ? {} : { unit }) }
  const text = typed !== null && isSame(typed.over, value) ? typed.text : shown(value, decimals)

  function commit(): void {
    if (typed === null || !isSame(typed.over, value)) return
    const read = typedNumber(text, bounds)
    if (read.kind === 'fault') return
    const next = read.kind === 'empty' ? NaN : read.value
    setTyped({ text, over: next })
    if (!isSame(next, value)) onChange(next)
  }

  return (
    <AriaTextField
      className="field"
      value={text}
      onChange={(next) => setTyped({ text: next, over: value })}
      onBlur={commit}
      onKeyDown={(event: KeyboardEvent) => {
        if (event.key === 'Enter') commit()
      }}
      isRequired={isRequired}
      validate={(one) => {
        const read = typedNumber(one, bounds)
        return read.kind === 'fault' ? read.fault : true
      }}
    >
      <Label>
        {label}
        {unit === undefined ? null : <span className="unseen">, {unit}</span>}
      </Label>
      <div className="number-with-unit">
        <Input inputMode="decimal" autoComplete="off" />
        {unit === undefined ? null : (
          <span className="unit" aria-hidden="true">
            {unit}
          </span>
        )}
      </div>
      <Hint hint={hint} />
      <FieldError>
        {({ validationDetails, validationErrors }) =>
          validationDetails.valueMissing ? `Enter a number. ${boundsInWords(bounds)}` : validationErrors.join(' ')
        }
      </FieldError>
    </AriaTextField>
  )
}

function shown(value: number, decimals: number): string {
  return Number.isNaN(value) ? '' : String(Number(value.toFixed(decimals)))
}

/** The same but for what a change of unit there and back does to a number. */
function isSame(a: number, b: number): boolean {
  return Object.is(a, b) || Math.abs(a - b) <= 1e-9 * Math.max(1, Math.abs(a))
}

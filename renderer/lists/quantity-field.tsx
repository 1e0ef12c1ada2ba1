import type { ReactNode } from 'react'
import { NumberField } from '../look/number-field.tsx'
import type { TypedUnit } from './lengths.ts'

export interface QuantityFieldProps {
  readonly label: string
  readonly hint?: ReactNode
  readonly unit: TypedUnit
  /** In the SI unit; null while nothing is entered. */
  readonly value: number | null
  readonly onChange: (value: number | null) => void
  /** Least and most, in the SI unit. */
  readonly range: readonly [number, number]
  readonly isRequired?: boolean
}

/** A length or mass, typed in the handler's unit and kept in m or kg. */
export function QuantityField({ unit, value, onChange, range, ...props }: QuantityFieldProps) {
  const [least, most] = range
  return (
    <NumberField
      {...props}
      unit={unit.name}
      value={value === null ? NaN : value / unit.perUnit}
      onChange={(typed) => onChange(Number.isNaN(typed) ? null : typed * unit.perUnit)}
      least={least / unit.perUnit}
      most={most / unit.perUnit}
      decimals={unit.decimals}
    />
  )
}

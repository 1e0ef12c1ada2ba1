import type { ReactNode } from 'react'
import type { Limits } from '../../analysis/board/board-limits.ts'
import { NumberField } from '../look/number-field.tsx'
import type { TypedUnit } from './lengths.ts'

export interface QuantityFieldProps {
  readonly label: string
  readonly hint?: ReactNode
  readonly unit: TypedUnit
  /** In the SI unit; null while nothing is entered. */
  readonly value: number | null
  readonly onChange: (value: number | null) => void
  /** What it may be, in the SI unit. */
  readonly range: Limits
  readonly isRequired?: boolean
}

/** A length or mass, typed in the handler's unit and kept in m or kg. */
export function QuantityField({ unit, value, onChange, range, ...props }: QuantityFieldProps) {
  return (
    <NumberField
      {...props}
      unit={unit.name}
      value={value === null ? NaN : value / unit.perUnit}
      onChange={(typed) => onChange(Number.isNaN(typed) ? null : typed * unit.perUnit)}
      least={range.min / unit.perUnit}
      most={range.max / unit.perUnit}
      decimals={unit.decimals}
    />
  )
}

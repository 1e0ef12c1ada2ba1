import type { Settings } from '../../main/contract/settings.ts'

/** A unit that people read and type a quantity in, and how it relates to the SI unit that is kept. */
export interface TypedUnit {
  readonly name: string
  readonly perUnit: number
  /** Decimals that are shown. */
  readonly decimals: number
}

/** 1 in = 2.54 cm by definition. */
export function lengthUnit(units: Settings['units']): TypedUnit {
  return units === 'metric' ? { name: 'cm', perUnit: 0.01, decimals: 1 } : { name: 'in', perUnit: 0.0254, decimals: 2 }
}

/** 1 lb = 0.45359237 kg by definition. */
export function massUnit(units: Settings['units']): TypedUnit {
  return units === 'metric' ? { name: 'kg', perUnit: 1, decimals: 1 } : { name: 'lb', perUnit: 0.45359237, decimals: 1 }
}

/** `shownIn(lengthUnit('imperial'), 3.6576)` is "144 in". */
export function shownIn(unit: TypedUnit, value: number): string {
  return `${String(Number((value / unit.perUnit).toFixed(unit.decimals)))} ${unit.name}`
}

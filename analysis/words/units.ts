/** In which units lengths are told; times are always in s. */
export type Units = 'metric' | 'imperial'

const M_PER_INCH = 0.0254
const M_PER_FOOT = 0.3048

/** How a quantity is told: how many of the unit go into one SI unit, the unit's sign, and how many decimals are worth telling. */
export interface DisplayUnit {
  readonly perSi: number
  readonly sign: string
  readonly decimals: number
}

/** How lengths along the plank are told in these `units`: metres, or inches. Returns its scale, sign and decimals. */
export function lengthDisplay(units: Units): DisplayUnit {
  return units === 'metric' ? { perSi: 1, sign: 'm', decimals: 2 } : { perSi: 1 / M_PER_INCH, sign: 'in', decimals: 1 }
}

/** How a few centimetres are told in these `units`: centimetres, or inches. Returns its scale, sign and decimals. */
export function smallLengthDisplay(units: Units): DisplayUnit {
  return units === 'metric'
    ? { perSi: 100, sign: 'cm', decimals: 1 }
    : { perSi: 1 / M_PER_INCH, sign: 'in', decimals: 2 }
}

/** How speeds are told in these `units`: metres or feet a second. Returns its scale, sign and decimals. */
export function speedDisplay(units: Units): DisplayUnit {
  return units === 'metric'
    ? { perSi: 1, sign: 'm/s', decimals: 2 }
    : { perSi: 1 / M_PER_FOOT, sign: 'ft/s', decimals: 1 }
}

/** A quantity told in its SI unit: its `sign` and how many `decimals` are worth telling. Returns how it is told. */
export function siDisplay(sign: string, decimals: number): DisplayUnit {
  return { perSi: 1, sign, decimals }
}

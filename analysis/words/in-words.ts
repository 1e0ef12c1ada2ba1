import type { Estimate, Measured } from '../estimate.ts'
import { lengthTold, type Told, type Units } from './units.ts'

/** A number for people: the `value` with fixed `decimals` and a real minus sign, never "-0.00". */
export function fixed(value: number, decimals: number): string {
  const text = Math.abs(value).toFixed(decimals)
  return value < 0 && Number(text) !== 0 ? `−${text}` : text
}

/**
 * A 95 % interval in words: "give or take 0.03" where it lies evenly about the value, else "between 0.80 and 0.95".
 *
 * @param estimate in the unit that is shown; @param decimals to be shown
 * @param shift added to the interval before it is shown, for values shown from another origin
 * @returns no unit; it follows from the value before it
 */
export function marginInWords(estimate: Measured, decimals: number, shift = 0): string {
  const [lo, hi] = estimate.ci95
  const below = estimate.value - lo
  const above = hi - estimate.value
  const wider = Math.max(below, above)
  const smallest = 10 ** -decimals
  if (wider < smallest / 2) return `give or take less than ${fixed(smallest, decimals)}`
  if (Math.abs(above - below) <= Math.max(wider / 4, smallest)) return `give or take ${fixed(wider, decimals)}`
  return `between ${fixed(lo + shift, decimals)} and ${fixed(hi + shift, decimals)}`
}

/** A quantity in SI units as it is told: the `value` scaled, with its sign: "0.87 m", "34.3 in". */
export function quantityInWords(value: number, { perSi, sign, decimals }: Told): string {
  return `${fixed(value * perSi, decimals)} ${sign}`
}

/** An estimate in SI units in the unit in which it is `told`; lower bounds and withheld values alike. */
export function inUnit<E extends Estimate>(estimate: E, { perSi }: Told): E {
  if (estimate.kind === 'withheld' || perSi === 1) return estimate
  if (estimate.kind === 'atLeast') return { ...estimate, value: estimate.value * perSi }
  const [lo, hi] = estimate.ci95
  return { ...estimate, value: estimate.value * perSi, sd: estimate.sd * perSi, ci95: [lo * perSi, hi * perSi] }
}

/**
 * A place along the plank as people say it: "0.87 m past the pivot", "0.20 m before the pivot", "at the pivot".
 *
 * @param alongM from the entry end; @param lengthM of the plank; @param units to be told in
 * @returns words
 * @example placeInWords(2.7, 3.66) // '0.87 m past the pivot'
 */
export function placeInWords(alongM: number, lengthM: number, units: Units = 'metric'): string {
  const pastM = alongM - lengthM / 2
  const told = lengthTold(units)
  if (Number(fixed(pastM * told.perSi, told.decimals)) === 0) return 'at the pivot'
  return `${quantityInWords(Math.abs(pastM), told)} ${pastM > 0 ? 'past' : 'before'} the pivot`
}

/**
 * The interval of a place along the plank; an uneven one is told from the pivot, minus = before it.
 *
 * @param estimate m from the entry end; @param lengthM of the plank; @param units to be told in
 * @returns words
 */
export function placeMarginInWords(estimate: Measured, lengthM: number, units: Units = 'metric'): string {
  const told = lengthTold(units)
  return marginInWords(inUnit(estimate, told), told.decimals, (-lengthM / 2) * told.perSi)
}

/** Before or after an instant, by `marginS`: "0.21 s before the board landed". */
export function sinceLandingInWords(marginS: number): string {
  return marginS < 0 ? `${fixed(-marginS, 2)} s before the board landed` : `${fixed(marginS, 2)} s after the landing`
}

/** An interval about the landing, s, whose ends may lie on both sides: "between 0.03 s before and 0.05 s after". */
export function acrossLandingInWords([lo, hi]: readonly [number, number]): string {
  const side = (seconds: number) => `${fixed(Math.abs(seconds), 2)} s ${seconds < 0 ? 'before' : 'after'}`
  return `between ${side(lo)} and ${side(hi)}`
}

/** A list of `items`: "a", "a and b", "a, b and c". */
export function listInWords(items: readonly string[]): string {
  const last = items.at(-1) ?? ''
  return items.length < 2 ? last : `${items.slice(0, -1).join(', ')} and ${last}`
}

/** The `text` as it starts a sentence. */
export function capitalised(text: string): string {
  return text.slice(0, 1).toUpperCase() + text.slice(1)
}

/** True when the `estimate` has a value with its interval. */
export function isMeasured(estimate: Estimate): estimate is Measured {
  return estimate.kind === 'measured'
}

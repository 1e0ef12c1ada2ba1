import type { Estimate, Measured } from '../estimate.ts'
import { lengthDisplay, type DisplayUnit, type Units } from './units.ts'

/** A number for people: the `value` with fixed `decimals` and a real minus sign, never "-0.00". */
export function fixed(value: number, decimals: number): string {
  const text = Math.abs(value).toFixed(decimals)
  return value < 0 && Number(text) !== 0 ? `−${text}` : text
}

/**
 * A 95 % interval: "± 0.03" where it lies evenly about the value, else "(0.80 to 0.95)".
 *
 * @param estimate in the unit that is shown; @param decimals to be shown
 * @returns no unit; it follows from the value before it. Never "± 0.00": half a unit of the last decimal is rounded up
 */
export function marginInWords(estimate: Measured, decimals: number): string {
  const [lo, hi] = estimate.ci95
  const below = estimate.value - lo
  const above = hi - estimate.value
  const wider = Math.max(below, above)
  const smallest = 10 ** -decimals
  const isEven = Math.abs(above - below) <= Math.max(wider / 4, smallest)
  return isEven ? plusMinus(wider, decimals) : `(${fixed(lo, decimals)} to ${fixed(hi, decimals)})`
}

/** The wider side of a 95 % interval, for a value that is shown without its sign, with fixed `decimals`: "± 0.03". */
export function evenMarginInWords({ value, ci95: [lo, hi] }: Measured, decimals: number): string {
  return plusMinus(Math.max(value - lo, hi - value), decimals)
}

function plusMinus(wider: number, decimals: number): string {
  return `± ${fixed(Math.max(wider, 10 ** -decimals), decimals)}`
}

/** What ± means, in a sentence for where numbers first appear. */
export const PLUS_MINUS = '± 0.05 means: about 19 times in 20 the true value is within 0.05 of the number.'

/** A quantity in SI units as it is told: the `value` scaled, with its sign: "0.87 m", "34.3 in", "12°". */
export function quantityInWords(value: number, { perSi, sign, decimals }: DisplayUnit): string {
  return `${fixed(value * perSi, decimals)}${sign === '°' ? '' : ' '}${sign}`
}

/** An estimate in SI units in the unit in which it is `unit`; lower bounds and withheld values alike. */
export function inUnit<E extends Estimate>(estimate: E, { perSi }: DisplayUnit): E {
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
  return placeParts(alongM, lengthM, units)
    .filter((part) => part !== null)
    .join(' ')
}

/**
 * `placeInWords` in two, so that the interval can stand between them.
 *
 * @param alongM from the entry end; @param lengthM of the plank; @param units to be told in
 * @returns "0.87 m" and "past the pivot"; null for no distance
 */
export function placeParts(alongM: number, lengthM: number, units: Units): readonly [string | null, string] {
  const pastM = alongM - lengthM / 2
  const unit = lengthDisplay(units)
  if (Number(fixed(pastM * unit.perSi, unit.decimals)) === 0) return [null, 'at the pivot']
  return [quantityInWords(Math.abs(pastM), unit), `${pastM > 0 ? 'past' : 'before'} the pivot`]
}

/**
 * The interval of a place along the plank, to stand behind its distance from the pivot: "± 0.03", or "(0.80 to 0.95)"
 * where it is uneven and lies on one side of the pivot.
 *
 * @param estimate m from the entry end; @param lengthM of the plank; @param units to be told in
 * @returns words
 */
export function placeMarginInWords(estimate: Measured, lengthM: number, units: Units = 'metric'): string {
  const unit = lengthDisplay(units)
  const pastM = estimate.value - lengthM / 2
  const [lo, hi] = estimate.ci95.map((alongM) => Math.sign(pastM) * (alongM - lengthM / 2)) as [number, number]
  const fromPivot = { ...estimate, value: Math.abs(pastM), ci95: [Math.min(lo, hi), Math.max(lo, hi)] as const }
  if (fromPivot.ci95[0] < 0) return evenMarginInWords(inUnit(fromPivot, unit), unit.decimals)
  return marginInWords(inUnit(fromPivot, unit), unit.decimals)
}

/** On which side of the landing `marginS` lies: "before the board landed". */
export function sideOfLandingInWords(marginS: number): string {
  return marginS < 0 ? 'before the board landed' : 'after the landing'
}

/** An interval about the landing, s, whose ends may lie on both sides: "between 0.03 s before and 0.05 s after". */
export function acrossLandingInWords([lo, hi]: readonly [number, number]): string {
  const side = (seconds: number) => `${fixed(Math.abs(seconds), 2)} s ${seconds < 0 ? 'before' : 'after'}`
  return `between ${side(lo)} and ${side(hi)}`
}

/** A list of `items`: "a", "a and b", "a, b and c". */
export function listInWords(items: readonly string[]): string {
  return new Intl.ListFormat('en-GB').format(items)
}

/** A choice of `items`: "a", "a or b", "a, b or c". */
export function alternatives(items: readonly string[]): string {
  return new Intl.ListFormat('en-GB', { type: 'disjunction' }).format(items)
}

/** The `text` as it starts a sentence. */
export function capitalised(text: string): string {
  return text.slice(0, 1).toUpperCase() + text.slice(1)
}

/** True when the `estimate` has a value with its interval. */
export function isMeasured(estimate: Estimate): estimate is Measured {
  return estimate.kind === 'measured'
}

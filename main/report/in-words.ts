import type { Estimate, Measured } from '../../analysis/estimate.ts'

/** A number for people: fixed decimals and a real minus sign, never "-0.00". */
export function fixed(value: number, decimals: number): string {
  const text = Math.abs(value).toFixed(decimals)
  return value < 0 && Number(text) !== 0 ? `−${text}` : text
}

/**
 * A 95 % interval in words: "give or take 0.03" where it lies evenly about the value, else "between 0.80 and 0.95".
 *
 * @param shift added to the interval before it is shown, for values shown from another origin
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

/** A place along the plank as people say it: "0.87 m past the pivot", "0.20 m before the pivot", "at the pivot". */
export function placeInWords(alongM: number, lengthM: number): string {
  const pastM = alongM - lengthM / 2
  const distance = fixed(Math.abs(pastM), 2)
  if (Number(distance) === 0) return 'at the pivot'
  return `${distance} m ${pastM > 0 ? 'past' : 'before'} the pivot`
}

/** The interval of a place along the plank; an uneven one is told from the pivot, minus = before it. */
export function placeMarginInWords(estimate: Measured, lengthM: number): string {
  return marginInWords(estimate, 2, -lengthM / 2)
}

/** Before or after an instant: "0.21 s before the board landed". */
export function sinceLandingInWords(marginS: number): string {
  return marginS < 0 ? `${fixed(-marginS, 2)} s before the board landed` : `${fixed(marginS, 2)} s after the landing`
}

/** An interval about the landing whose ends may lie on both sides: "between 0.03 s before and 0.05 s after". */
export function acrossLandingInWords([lo, hi]: readonly [number, number]): string {
  const side = (seconds: number) => `${fixed(Math.abs(seconds), 2)} s ${seconds < 0 ? 'before' : 'after'}`
  return `between ${side(lo)} and ${side(hi)}`
}

/** "a", "a and b", "a, b and c". */
export function listInWords(items: readonly string[]): string {
  const last = items.at(-1) ?? ''
  return items.length < 2 ? last : `${items.slice(0, -1).join(', ')} and ${last}`
}

/** Starts a sentence. */
export function capitalised(text: string): string {
  return text.slice(0, 1).toUpperCase() + text.slice(1)
}

export function isMeasured(estimate: Estimate): estimate is Measured {
  return estimate.kind === 'measured'
}

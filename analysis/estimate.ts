/**
 * A number that Tiphold reports: measured with its uncertainty, known only from below, or withheld with a reason.
 * There is no other way to say "unknown": no NaN, no -1, no 0.
 */

/** Why a value is not given. The word goes into files; `detail` is the sentence a handler reads. */
export type WithheldReason =
  | 'still-on'
  | 'never-landed'
  | 'never-tipped'
  | 'left-before'
  | 'clip-ends'
  | 'out-of-picture'
  | 'hidden'
  | 'no-sound'
  | 'not-clear'
  | 'not-seen'
  | 'not-measured-yet'
  /** The file is damaged there, or pictures are missing. */
  | 'damaged'

export interface Measured {
  readonly kind: 'measured'
  readonly value: number
  /** Standard deviation, in the unit of `value`. */
  readonly sd: number
  /** 95 % interval, in the unit of `value`; need not be symmetric. */
  readonly ci95: readonly [number, number]
}

export interface AtLeast {
  readonly kind: 'atLeast'
  readonly value: number
}

export interface Withheld {
  readonly kind: 'withheld'
  readonly reason: WithheldReason
  /** One sentence: what is missing and, where there is something to do, what to do. */
  readonly detail: string
}

export type Estimate = Measured | AtLeast | Withheld

/** Two-sided 95 % point of the normal distribution. */
export const Z95 = 1.959964

/**
 * A measured value with a symmetric normal 95 % interval.
 *
 * @param value any unit
 * @param sd standard deviation in the same unit, >= 0
 * @returns `ci95` is value -+ 1.96 sd: `measured(2, 0.1).ci95` is [1.804, 2.196]
 */
export function measured(value: number, sd: number): Measured {
  return { kind: 'measured', value, sd, ci95: [value - Z95 * sd, value + Z95 * sd] }
}

/**
 * A value that is withheld: `withheld('never-tipped', 'The board never began to tip.')`.
 *
 * @param detail the sentence that people read
 * @param reason the word that goes into files
 */
export function withheld(reason: WithheldReason, detail: string): Withheld {
  return { kind: 'withheld', reason, detail }
}

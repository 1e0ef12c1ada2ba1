import { COLUMNS, FROM_ALONG_M, PITCH_M, STEP_S } from './paw-picture.ts'

/**
 * What the paw network makes of a paw picture: maps of `steps` x `COLUMNS`, row by row. Places are as they appear in
 * the plane through the plank's near edge.
 */
export interface PawOdds {
  /** Time of the first step, s; steps are `STEP_S` apart. */
  readonly fromS: number
  readonly steps: number
  /** Probability that a front paw, a hind paw touches here, 0-1. */
  readonly front: Float32Array
  readonly hind: Float32Array
  /** Where the foremost front paw and the body's centre are, on the plank or near it: each step sums to 1. */
  readonly lead: Float32Array
  readonly body: Float32Array
  /** Probability that the dog is between its first and its last touch of the plank, one element a step, 0-1. */
  readonly on: Float32Array
}

/** Less of a step's odds in the peak than this says that the place is not known. */
export const LEAST_SHARE = 0.5

/**
 * The middle of a column.
 *
 * @param column whole or broken number of columns
 * @returns m along the plank, as it appears at the near edge
 */
export function columnM(column: number): number {
  return FROM_ALONG_M + (column + 0.5) * PITCH_M
}

/**
 * The step at a time.
 *
 * @param odds of the stretch
 * @param atS time, s
 * @returns a broken number of steps, held within the stretch
 */
export function stepAt(odds: PawOdds, atS: number): number {
  return Math.min(odds.steps - 1, Math.max(0, (atS - odds.fromS) / STEP_S))
}

/**
 * The likeliest place in one step of a map of places, and how spread out it is around there.
 *
 * @param map `lead` or `body`
 * @param step whole number
 * @returns m along as it appears at the near edge, sd of the peak in m, and the share of the whole that lies in the peak
 */
export function placeIn(map: Float32Array, step: number): { alongM: number; sdM: number; share: number } {
  const at = step * COLUMNS
  let best = 0
  for (let column = 1; column < COLUMNS; column++) if (map[at + column]! > map[at + best]!) best = column
  let sum = 0
  let moment = 0
  let squares = 0
  for (let column = Math.max(0, best - 6); column <= Math.min(COLUMNS - 1, best + 6); column++) {
    const p = map[at + column]!
    sum += p
    moment += p * column
    squares += p * column * column
  }
  const mean = moment / sum
  return {
    alongM: columnM(mean),
    sdM: PITCH_M * Math.sqrt(Math.max(0, squares / sum - mean * mean)),
    share: sum,
  }
}

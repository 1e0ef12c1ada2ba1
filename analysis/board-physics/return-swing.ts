import { withheld, type Estimate } from '../estimate.ts'
import type { BoardFit } from './board-fit.ts'
import { fromDraws, shareOf } from './draws-summary.ts'
import { drivingTorqueNm, UNLOADED, type BoardLaw } from './seesaw-law.ts'
import { landingOf } from './swing.ts'

/** How the board comes back when nothing lies on it any more. */
export interface ReturnSwing {
  /** Whether the entry end comes down by itself. */
  readonly byItself: 'yes' | 'no' | 'unsure'
  /** From the ground to the ground, s. */
  readonly returnS: Estimate
  /** How fast the entry end meets the ground, m/s. */
  readonly endSpeedMps: Estimate
}

/** It counts as sure when no more boards speak against it than a 95 % interval leaves out on one side. */
const LIKELY = 0.975

/**
 * Whether an empty board leaves the ground with its exit end.
 *
 * @param law the board
 * @param groundRad its angle with the exit end down
 * @returns true when its bias overcomes the friction there
 */
export function returns(law: BoardLaw, groundRad: number): boolean {
  return -drivingTorqueNm(law, UNLOADED, groundRad) > law.coulombNm
}

/**
 * How the empty board comes back.
 *
 * @param fit what the drops tell of the board
 * @param lengthM of the plank, m
 * @returns withheld times when it may stay down
 */
export function returnSwing(fit: BoardFit, lengthM: number): ReturnSwing {
  const groundRad = fit.restRad + fit.swingRad
  const back = fit.draws.length === 0 ? NaN : shareOf(fit.draws, ({ law }) => returns(law, groundRad))
  if (!(back >= LIKELY)) {
    const why = withheld('not-clear', 'The drops do not tell whether the entry end comes back by itself.')
    return { byItself: back <= 1 - LIKELY ? 'no' : 'unsure', returnS: why, endSpeedMps: why }
  }
  const landings = fit.draws.flatMap(({ law }) => {
    const landing = landingOf(law, UNLOADED, groundRad, fit.swingRad, -1)
    return landing === null ? [] : [landing]
  })
  return {
    byItself: 'yes',
    returnS: fromDraws(landings.map(({ afterS }) => afterS)),
    endSpeedMps: fromDraws(landings.map(({ rateRadps }) => (rateRadps * lengthM) / 2)),
  }
}

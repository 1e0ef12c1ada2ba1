import type { BoardTrack } from '../board/board-track.ts'
import type { Estimate } from '../estimate.ts'

/** When the board rests before it tips, and again after it has come back: from and to, s. */
export interface Rests {
  readonly beforeS: readonly [number, number]
  readonly afterS: readonly [number, number]
}

/** The board is back this near its rest, rad; it may still bounce for this long, s. */
const BACK_WITHIN_RAD = 0.01
const BOUNCES_S = 0.2
/** What is told of the base ends so long after the board has come back, s. */
const UNTIL_S = 1
/** Something comes near before it is known to touch, s. */
const COMES_S = 0.1

/**
 * The two rests between which a base can have shifted.
 *
 * @param track the board's angle, rad
 * @param quietUntil when a paw or a weight first touches the plank, s
 * @param grounded when the exit end lands, s
 * @returns null where one of both moments is not known, or the board is not seen to come back
 */
export function restsOf(
  { ptsS, angleRad, restAngleRad }: BoardTrack,
  quietUntil: Estimate,
  grounded: Estimate,
): Rests | null {
  if (quietUntil.kind !== 'measured' || grounded.kind !== 'measured') return null
  const back = ptsS.findIndex((t, k) => t > grounded.value && Math.abs(angleRad[k]! - restAngleRad) < BACK_WITHIN_RAD)
  if (back < 0) return null
  const backS = ptsS[back]!
  return {
    beforeS: [-Infinity, quietUntil.value - 2 * quietUntil.sd - COMES_S],
    afterS: [backS + BOUNCES_S, backS + UNTIL_S],
  }
}

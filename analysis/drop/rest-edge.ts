import type { Measured } from '../estimate.ts'
import { passedFromWeights, valueFromPassed } from '../ride/grid-posterior.ts'

/** How far something was from where it rests, in one frame. */
export interface Distance {
  /** s. */
  readonly timeS: number
  /** m, not below 0. */
  readonly distanceM: number
}

export interface Leaving {
  /** How often it leaves gently, 0-1. */
  readonly gentle: number
  /** It counts as gone once it is anywhere from 0 to this far away, m. */
  readonly slackM: number
}

/** Distances beyond this are not told apart, m. */
const SEEN_M = 0.015
/** A distance read from how much a picture changed is off by this share, 1 sd. */
const SCALE_SD = 0.25
/** A frame shows a stretch of time, share of a frame, 1 sd: shutter, and pictures that the codec corrects late. */
const EXPOSURE_SD = 0.2
/** What no fit can beat, share of a frame, 1 sd: no hand moves as simply as this. */
const TIMING_SD = 0.2
/** How far it may have come a tenth of a second after it left, m. */
const LEAST_M = 0.002
const MOST_M = 1
const REACHES = 36

/**
 * When something that lay still began to move: it leaves at full speed, or gently, its distance growing as the square of
 * the time since.
 *
 * Start, kind and speed are weighed by how well the distances agree, so that a start too gentle to be seen is allowed
 * for. For something that comes to rest, give times and result with their signs turned.
 *
 * @param distances times rising: the last frames of rest, and frames after it until it is far away
 * @param noiseM how far something at rest seems to be, 1 sd, m
 * @param frameS time from one frame to the next, s
 * @param leaving how such things leave
 * @returns s
 * @example at rest until 0.96, 3 mm away at 1.00 and 9 mm at 1.04 gives 0.98 or a little earlier
 */
export function leavesRest(distances: readonly Distance[], noiseM: number, frameS: number, leaving: Leaving): Measured {
  const { gentle, slackM } = leaving
  const powers = [
    { power: 1, logShare: Math.log(1 - gentle) },
    { power: 2, logShare: Math.log(gentle) },
  ]
  const fromS = distances[0]!.timeS
  const count = Math.ceil((distances[distances.length - 1]!.timeS - fromS) / (frameS / 16))
  const edgesS = Float64Array.from({ length: count + 1 }, (_, n) => fromS + (n * frameS) / 16)
  const starts: { readonly startS: number; readonly power: number; readonly reachM: number; readonly log: number }[] =
    []
  for (let n = 0; n < count; n++) {
    const startS = (edgesS[n]! + edgesS[n + 1]!) / 2
    for (const { power, logShare } of powers) {
      for (let k = 0; k < REACHES; k++) {
        const reachM = LEAST_M * (MOST_M / LEAST_M) ** (k / (REACHES - 1))
        const awayM = (timeS: number): number => reachM * (Math.max(timeS - startS, 0) / 0.1) ** power
        starts.push({ startS, power, reachM, log: logShare + agreement(distances, awayM, noiseM, frameS) })
      }
    }
  }
  const best = starts.reduce((most, { log }) => Math.max(most, log), -Infinity)
  const weights = new Float64Array(count)
  for (const { startS, power, reachM, log } of starts) {
    for (const share of SLACK_SHARES) {
      const atS = startS + 0.1 * ((share * slackM) / reachM) ** (1 / power)
      const cell = Math.min(Math.floor((atS - fromS) / (frameS / 16)), count - 1)
      weights[cell]! += Math.exp(log - best)
    }
  }
  return valueFromPassed(edgesS, passedFromWeights(weights), TIMING_SD * frameS)
}

const SLACK_SHARES = [0, 0.25, 0.5, 0.75, 1]

/** Logarithm of how likely the distances are when it is `awayM` away at each time. */
function agreement(
  distances: readonly Distance[],
  awayM: (timeS: number) => number,
  noiseM: number,
  frameS: number,
): number {
  let log = 0
  for (const { timeS, distanceM } of distances) {
    const wantM = Math.min(awayM(timeS), SEEN_M)
    const blurM = Math.min(awayM(timeS + EXPOSURE_SD * frameS), SEEN_M) - wantM
    const sdM = Math.hypot(noiseM, SCALE_SD * wantM, blurM)
    const off = (Math.min(distanceM, SEEN_M) - wantM) / sdM
    log -= 0.5 * off * off + Math.log(sdM)
  }
  return log
}

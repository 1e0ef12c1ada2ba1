import type { Measured } from '../estimate.ts'
import { passedFromWeights, valueFromPassed } from '../ride/grid-posterior.ts'

/** How far something was from where it rests, in one frame. */
export interface Distance {
  /** s. */
  readonly timeS: number
  /** m, not below 0. */
  readonly distanceM: number
}

/** How something went away from where it rested, as a picture shows it. */
export interface Way {
  /** Times rising: the last frames of rest, and frames after it until it is far away. */
  readonly distances: readonly Distance[]
  /** How far something at rest seems to be, 1 sd, m. */
  readonly noiseM: number
  /** Distances beyond this are not told apart, m. */
  readonly seenM: number
}

/** How such things leave. */
export interface Leaving {
  /** How often it leaves gently, 0-1. */
  readonly gentle: number
  /** It counts as gone once it is anywhere from 0 to this far away, m. */
  readonly slackM: number
  /** The last moments of rest may seem further off by this many times the noise: codecs finish a picture late. */
  readonly unfinished: number
}

/** A distance read from how much a picture changed is off by this share, 1 sd. */
const SCALE_SD = 0.25
/** A frame shows a stretch of time, share of a frame, 1 sd: shutter, and pictures that the codec corrects late. */
const EXPOSURE_SD = 0.2
/** How long before it leaves a picture may still be unfinished, s; with the times turned round after it came. */
const UNFINISHED_S = 0.1
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
 * @param way distances, m, over times, s
 * @param frameS time from one frame to the next, s
 * @param leaving how such things leave
 * @returns s
 * @example at rest until 0.96, 3 mm away at 1.00 and 9 mm at 1.04 gives 0.98 or a little earlier
 */
export function leavesRest(way: Way, frameS: number, leaving: Leaving): Measured {
  const { distances } = way
  const { gentle, slackM } = leaving
  const powers = [
    { power: 1, logShare: Math.log(1 - gentle) },
    { power: 2, logShare: Math.log(gentle) },
  ]
  const fromS = distances[0]!.timeS
  const count = Math.ceil((distances[distances.length - 1]!.timeS - fromS) / (frameS / CELLS_A_FRAME))
  const edgesS = Float64Array.from({ length: count + 1 }, (_, n) => fromS + (n * frameS) / CELLS_A_FRAME)
  const starts: { readonly startS: number; readonly power: number; readonly reachM: number; readonly log: number }[] =
    []
  for (let n = 0; n < count; n++) {
    const startS = (edgesS[n]! + edgesS[n + 1]!) / 2
    for (const { power, logShare } of powers) {
      for (let k = 0; k < REACHES; k++) {
        const reachM = LEAST_M * (MOST_M / LEAST_M) ** (k / (REACHES - 1))
        const awayM = (timeS: number): number => reachM * (Math.max(timeS - startS, 0) / REACHED_IN_S) ** power
        starts.push({ startS, power, reachM, log: logShare + agreement(way, awayM, startS, frameS, leaving) })
      }
    }
  }
  const best = starts.reduce((most, { log }) => Math.max(most, log), -Infinity)
  const weights = new Float64Array(count)
  for (const { startS, power, reachM, log } of starts) {
    for (const share of SLACK_SHARES) {
      const atS = startS + REACHED_IN_S * ((share * slackM) / reachM) ** (1 / power)
      const cell = Math.min(Math.floor((atS - fromS) / (frameS / CELLS_A_FRAME)), count - 1)
      weights[cell]! += Math.exp(log - best)
    }
  }
  return valueFromPassed(edgesS, passedFromWeights(weights), TIMING_SD * frameS)
}

/** A way is named by how far it is after this time, s. */
const REACHED_IN_S = 0.1
/** The start is looked for in so many cells between two frames. */
const CELLS_A_FRAME = 16
const SLACK_SHARES = [0, 0.25, 0.5, 0.75, 1]

/** Logarithm of how likely the distances are when it leaves at `startS` and is `awayM` away at each time. */
function agreement(
  { distances, noiseM, seenM }: Way,
  awayM: (timeS: number) => number,
  startS: number,
  frameS: number,
  { unfinished }: Leaving,
): number {
  let log = 0
  for (const { timeS, distanceM } of distances) {
    const wantM = Math.min(awayM(timeS), seenM)
    const blurM = Math.min(awayM(timeS + EXPOSURE_SD * frameS), seenM) - wantM
    const lateM = timeS < startS ? unfinished * noiseM * Math.exp((timeS - startS) / UNFINISHED_S) : 0
    const sdM = Math.hypot(noiseM, SCALE_SD * wantM, blurM, lateM)
    const off = (Math.min(distanceM, seenM) - wantM) / sdM
    log -= 0.5 * off * off + Math.log(sdM)
  }
  return log
}

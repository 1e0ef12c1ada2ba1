import type { BoardTrack } from '../board/board-track.ts'
import { median, robustSd } from '../numeric/robust.ts'
import { smoothMotion, type MotionCurve, type MotionHabits, type Readings } from './motion-curve.ts'
import { timingFloorS } from './timing-floor.ts'

/** The board's turn from rest, only the frames in which it was followed. */
export interface BoardCurve {
  /** `places` are the angle minus the angle at rest, rad; `variances` rad2, what an uncertain timestamp does included. */
  readonly readings: Readings
  /** The same motion smoothed; a landing is a little rounded in it. */
  readonly smooth: MotionCurve
  /** Usual time from one frame of the clip to the next, s. */
  readonly frameS: number
  /** First and last frame of the clip, followed or not, s. */
  readonly clipFromS: number
  readonly clipToS: number
  /** Angle at rest, rad. */
  readonly restRad: number
  readonly lengthM: number
}

/**
 * How a seesaw plank may turn. Jerk densities, (rad/s3)2 s: from a weight lying still on a slow board (about 0.1) to a
 * dog that jumps on it (about 10 000). A wild frame may show any angle from end to end, about 0.7 rad.
 */
export const BOARD_HABITS: MotionHabits = {
  reach: { place: 0.5, speed: 3, acceleration: 20 },
  jerkDensities: [0.1, 1, 10, 100, 1e3, 1e4],
  outliers: { share: 0.01, range: 0.7 },
}

/** Change of turning speed from one frame to the next that a landing or a striking paw may bring, 1 sd, rad/s. */
const KINK_RAD_S = 0.8

/** For looking at the whole clip at once: quick enough at any frame rate to follow a landing and the spring back after it. */
function quickHabits(frameS: number): MotionHabits {
  // A step of place by KINK_RAD_S * frameS within one frame: the filter's variance of place is density * time^5 / 20.
  return { ...BOARD_HABITS, jerkDensities: [(20 * KINK_RAD_S ** 2) / frameS ** 3], outliers: { share: 0, range: 1 } }
}

/** More acceleration than a plank shows except in the instant of an impact, rad/s2. */
const MOST_ACCELERATION = 15

/**
 * The readings without wild ones. A reading is wild when no straight motion through two of its neighbours (one on each
 * side, or two on the same side, as before or after an impact) passes near it.
 */
function withoutWild(readings: Readings): Readings {
  const { timesS, places, variances } = readings
  const kept = Array.from(timesS.keys()).filter((i) => {
    const pairs = [
      [-1, 1],
      [-2, -1],
      [1, 2],
      [-2, 1],
      [-1, 2],
    ].map(([a = 0, b = 0]) => [i + a, i + b] as const)
    const known = pairs.filter(([a, b]) => a >= 0 && b < timesS.length)
    return known.length === 0 || known.some(([a, b]) => isNearLine(a, b, i))
  })
  function isNearLine(a: number, b: number, i: number): boolean {
    const spanS = timesS[b]! - timesS[a]!
    const part = (timesS[i]! - timesS[a]!) / spanS
    const line = places[a]! + part * (places[b]! - places[a]!)
    const noise = Math.sqrt(variances[i]! + (1 - part) ** 2 * variances[a]! + part ** 2 * variances[b]!)
    const bend = (MOST_ACCELERATION / 2) * Math.abs((timesS[i]! - timesS[a]!) * (timesS[i]! - timesS[b]!))
    return Math.abs(places[i]! - line) < 5 * noise + bend
  }
  const keep = (values: Float64Array): Float64Array => Float64Array.from(kept, (i) => values[i]!)
  return { timesS: keep(timesS), places: keep(places), variances: keep(variances) }
}

/**
 * The curve behind a board track, with the frames' noise checked against how still the resting board looks.
 *
 * @param track angles, rad
 * @returns null when the plank was followed in fewer than four frames
 */
export function boardCurve(track: BoardTrack): BoardCurve | null {
  const frames: number[] = []
  track.seen.forEach((seen, i) => {
    if (seen && Number.isFinite(track.angleRad[i]) && Number.isFinite(track.sdRad[i])) frames.push(i)
  })
  if (frames.length < 4) return null
  const timesS = Float64Array.from(frames, (i) => track.ptsS[i]!)
  const places = Float64Array.from(frames, (i) => track.angleRad[i]! - track.restAngleRad)
  const stated = Float64Array.from(frames, (i) => Math.max(track.sdRad[i]!, LEAST_SD_RAD))
  const factor = noiseFactor(places, stated, turnForDrop(STILL_M, track.restAngleRad, track.lengthM))
  const frameS = median(track.ptsS.slice(1).map((timeS, i) => timeS - track.ptsS[i]!))
  const timingS = timingFloorS(frameS)
  const variances = stated.map((sd, i) => (sd * factor) ** 2 + (timingS * speedAt(timesS, places, i)) ** 2)
  const readings = withoutWild({ timesS, places, variances })
  const smooth = smoothMotion(readings, quickHabits(frameS))
  if (smooth === null) return null
  return {
    readings,
    smooth,
    frameS,
    clipFromS: track.ptsS[0]!,
    clipToS: track.ptsS[track.ptsS.length - 1]!,
    restRad: track.restAngleRad,
    lengthM: track.lengthM,
  }
}

/** An exit end this near to its place at rest is still, m. */
const STILL_M = 0.004
/** What the frames state of their noise counts as much as this many frames. */
const STATED_WORTH = 4
/** A median deviation is worth this share of the values it was made from (Rousseeuw and Croux, J Am Stat Assoc 1993). */
const MEDIAN_WORTH = 0.37
/** No frame is read better than this, whatever it states: 0.003 deg, a hundredth of a pixel on a long plank. */
const LEAST_SD_RAD = 5e-5

/** Speed around a reading, rad/s: the middle one of those before, across and after it, so that one wild frame does not count. */
function speedAt(timesS: Float64Array, places: Float64Array, i: number): number {
  const last = timesS.length - 1
  const between = (a: number, b: number): number => Math.abs((places[b]! - places[a]!) / (timesS[b]! - timesS[a]!))
  const spans = [[i - 2, i - 1] as const, [i - 1, i + 1] as const, [i + 1, i + 2] as const]
  return median(spans.filter(([a, b]) => a >= 0 && b <= last).map(([a, b]) => between(a, b)))
}

/**
 * How much larger the frames' noise is than stated, from the scatter of the frames at rest (those within a few mm of
 * it). The statement counts as much as four frames. Never less than one: a still board shows the same pixels in each
 * frame, so what the picture hides does not scatter there as it does while the board moves.
 */
function noiseFactor(places: Float64Array, stated: Float64Array, stillRad: number): number {
  const scaled: number[] = []
  places.forEach((place, i) => {
    if (Math.abs(place) < stillRad + 4 * stated[i]!) scaled.push(place / stated[i]!)
  })
  if (scaled.length < 5) return 1
  const worth = MEDIAN_WORTH * scaled.length
  return Math.sqrt(Math.max(1, (STATED_WORTH + worth * robustSd(scaled) ** 2) / (STATED_WORTH + worth)))
}

/**
 * How far the exit end has sunk below its place at rest when the board has turned by `turnRad`.
 *
 * The end moves on a circle of half the plank's length; that it lies a few cm off the line through the axis changes
 * 10 mm by less than 0.1 mm and is left out.
 *
 * @param turnRad angle minus angle at rest, rad
 * @param restRad angle at rest, rad (negative)
 * @param lengthM of the plank
 * @returns m, positive downwards
 * @example dropForTurn(0.2, -0.1, 3.6) // 0.3594, from 1.8 (sin 0.1 + sin 0.1)
 */
export function dropForTurn(turnRad: number, restRad: number, lengthM: number): number {
  return (lengthM / 2) * (Math.sin(restRad + turnRad) - Math.sin(restRad))
}

/**
 * The turn from rest that lowers the exit end by `dropM`: the inverse of `dropForTurn`.
 *
 * @param dropM m, small enough for the plank
 * @param restRad angle at rest, rad (negative)
 * @param lengthM of the plank
 * @returns rad
 * @example turnForDrop(0.01, 0, 3.6) // 0.00556
 */
export function turnForDrop(dropM: number, restRad: number, lengthM: number): number {
  return Math.asin(Math.sin(restRad) + (2 * dropM) / lengthM) - restRad
}

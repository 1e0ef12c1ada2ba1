import type { BoardCurve } from './board-curve.ts'
import { DEEPEST_DIP_RAD, OVERSHOOT_RAD, type GroundLevel } from './landing.ts'
import { median } from '../numeric/robust.ts'

/** A board that stays this long at one turn lies on the ground, s. */
const STILL_S = 0.2

/**
 * A board that was lower before and now keeps still may be at the top of a long hop: at least so long it must keep still
 * to lie there, s. Near its top a slow board's hop stays within what counts as still for about a third of a second.
 */
const NO_HOP_S = 0.45

/** Readings of a still board share this error (a foot in front of an edge, a bending plank), 1 sd, rad (0.02 deg). */
const SHARED_SD_RAD = 3.5e-4

/** Only so long after the landing frames count for the level: a standing dog may bend plank and turf later on. */
const LEVEL_S = 0.6

/**
 * Where the exit end lies on the ground, from the frames in which the board keeps still down there.
 *
 * @param curve the board's turn
 * @param fromS no frame before it is used, s
 * @param guess where the ground should be by the geometry; still stretches more than four sd away do not count
 * @returns null when the board never keeps still near the guess
 */
export function groundLevel(curve: BoardCurve, fromS: number, guess: GroundLevel): GroundLevel | null {
  const { timesS, places, variances } = curve.readings
  let lowest: number | null = null
  let stillS = Infinity
  for (let from = 0; from < timesS.length; from++) {
    if (timesS[from]! < fromS) continue
    let to = from
    while (to < timesS.length && (timesS[to]! < timesS[from]! + STILL_S || to < from + 5)) to++
    const spanS = timesS[to - 1]! - timesS[from]!
    if (to - from < 5 || spanS < STILL_S - 2 * curve.frameS || spanS > 2 * STILL_S) continue
    const level = median(places.slice(from, to))
    if (Math.abs(level - guess.turnRad) > 4 * guess.sdRad) continue
    if ((lowest === null || level > lowest) && isStill(trendOf(curve, range(from, to), level))) {
      lowest = level
      stillS = timesS[from]!
    }
  }
  if (lowest === null) return null
  const found = lowest
  const noise = (i: number): number => Math.sqrt(variances[i]!)
  const after = range(0, timesS.length).filter((i) => timesS[i]! >= fromS)
  // A board that is seen further down than its still stretch was held up, not on the ground; but it may have been driven
  // into soft ground before it lay still.
  const isLower = (i: number, byRad: number): boolean => places[i]! > found + 4 * noise(i) + byRad
  const wasLower = (before: boolean, byRad: number): boolean =>
    after.some(
      (i) => timesS[i]! < stillS === before && isLower(i, byRad) && i + 1 < timesS.length && isLower(i + 1, byRad),
    )
  if (wasLower(true, DEEPEST_DIP_RAD) || wasLower(false, OVERSHOOT_RAD)) return null
  const near = after.filter((i) => Math.abs(places[i]! - found) < 3 * noise(i) + SHARED_SD_RAD)
  if (wasLower(true, OVERSHOOT_RAD) && timesS[near[near.length - 1]!]! - stillS < NO_HOP_S) return null
  const onGround = near.filter((i) => timesS[i]! < timesS[near[0]!]! + LEVEL_S)
  const trend = trendOf(curve, onGround, found)
  // A slow turning too small to be told from stillness would leave the first contact off by as much.
  return { turnRad: found + trend.level, sdRad: Math.hypot(trend.sdRad, SHARED_SD_RAD, trend.slope) }
}

/** Straight line and bend through the readings around `aboutRad`, in terms that run from -1 to 1 over the stretch. */
interface Trend {
  /** Mean, rad, relative to `aboutRad`. */
  readonly level: number
  readonly sdRad: number
  /** Turn from the middle of the stretch to its end, rad. */
  readonly slope: number
  readonly slopeSd: number
  readonly bend: number
  readonly bendSd: number
  /** Share of readings that have nothing to do with a still board. */
  readonly wild: number
}

/** Legendre polynomials over the stretch are nearly uncorrelated, so each is fitted by itself. */
function trendOf(curve: BoardCurve, frames: readonly number[], aboutRad: number): Trend {
  const { timesS, places, variances } = curve.readings
  const firstS = timesS[frames[0]!]!
  const spanS = Math.max(timesS[frames[frames.length - 1]!]! - firstS, 1e-9)
  const sums = [0, 0, 0]
  const weights = [0, 0, 0]
  let wild = 0
  for (const i of frames) {
    const off = places[i]! - aboutRad
    if (off ** 2 > 16 * (variances[i]! + SHARED_SD_RAD ** 2)) {
      wild++
      continue
    }
    const u = (2 * (timesS[i]! - firstS)) / spanS - 1
    for (const [n, polynomial] of [1, u, 1.5 * u * u - 0.5].entries()) {
      sums[n]! += (polynomial * off) / variances[i]!
      weights[n]! += polynomial ** 2 / variances[i]!
    }
  }
  const value = (n: number): number => (weights[n]! > 0 ? sums[n]! / weights[n]! : 0)
  const sd = (n: number): number => (weights[n]! > 0 ? Math.sqrt(1 / weights[n]!) : Infinity)
  return {
    level: value(0),
    sdRad: sd(0),
    slope: value(1),
    slopeSd: sd(1),
    bend: value(2),
    bendSd: sd(2),
    wild: wild / frames.length,
  }
}

/** True when neither a turning nor a bending of the curve shows above the noise. */
function isStill({ slope, slopeSd, bend, bendSd, wild }: Trend): boolean {
  const hidden = (value: number, sd: number): boolean => Math.abs(value) < 3.5 * Math.hypot(sd, SHARED_SD_RAD)
  return wild <= 0.25 && hidden(slope, slopeSd) && hidden(bend, bendSd)
}

function range(from: number, to: number): number[] {
  return Array.from({ length: to - from }, (_, i) => from + i)
}

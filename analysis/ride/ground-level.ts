import type { BoardCurve } from './board-curve.ts'
import type { GroundLevel } from './landing.ts'
import { median } from '../numeric/robust.ts'

/** A board that stays this long at one turn lies on the ground, s. */
const STILL_S = 0.2

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
  for (let from = 0; from < timesS.length; from++) {
    if (timesS[from]! < fromS) continue
    let to = from
    while (to < timesS.length && (timesS[to]! < timesS[from]! + STILL_S || to < from + 5)) to++
    const spanS = timesS[to - 1]! - timesS[from]!
    if (to - from < 5 || spanS < STILL_S - 2 * curve.frameS || spanS > 2 * STILL_S) continue
    const level = median(places.slice(from, to))
    if (Math.abs(level - guess.turnRad) > 4 * guess.sdRad) continue
    if (isStill(curve, from, to) && (lowest === null || level > lowest)) lowest = level
  }
  if (lowest === null) return null
  const found = lowest
  const near = Array.from(places.keys()).filter(
    (i) => timesS[i]! >= fromS && Math.abs(places[i]! - found) < 3 * Math.sqrt(variances[i]!) + SHARED_SD_RAD,
  )
  const onGround = near.filter((i) => timesS[i]! < timesS[near[0]!]! + LEVEL_S)
  const weight = onGround.reduce((sum, i) => sum + 1 / variances[i]!, 0)
  const turnRad = onGround.reduce((sum, i) => sum + places[i]! / variances[i]!, 0) / weight
  return { turnRad, sdRad: Math.hypot(Math.sqrt(1 / weight), SHARED_SD_RAD) }
}

/** True when neither a turning nor a bending of the curve shows above the noise in the frames `from` to `to`. */
function isStill(curve: BoardCurve, from: number, to: number): boolean {
  const { timesS, places, variances } = curve.readings
  const middle = median(places.slice(from, to))
  const span = timesS[to - 1]! - timesS[from]!
  // Legendre polynomials over the stretch: nearly uncorrelated, so each can be tested by itself.
  const slope = { sum: 0, weight: 0 }
  const bend = { sum: 0, weight: 0 }
  let wild = 0
  for (let i = from; i < to; i++) {
    const u = (2 * (timesS[i]! - timesS[from]!)) / span - 1
    const off = places[i]! - middle
    if (off ** 2 > 16 * (variances[i]! + SHARED_SD_RAD ** 2)) {
      wild++
      continue
    }
    const p2 = 1.5 * u * u - 0.5
    slope.sum += (u * off) / variances[i]!
    slope.weight += (u * u) / variances[i]!
    bend.sum += (p2 * off) / variances[i]!
    bend.weight += (p2 * p2) / variances[i]!
  }
  const fits = ({ sum, weight }: { sum: number; weight: number }): boolean =>
    Math.abs(sum / weight) < 3.5 * Math.sqrt(1 / weight + SHARED_SD_RAD ** 2)
  return wild <= 1 + (to - from) / 10 && fits(slope) && fits(bend)
}

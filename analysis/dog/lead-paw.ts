import type { Foot } from './feet.ts'
import { UNKNOWN_CELL, type Strip, type StripGrid } from './strip.ts'

/** The foremost paw in one frame. */
export interface LeadPaw {
  readonly alongM: number
  readonly sdM: number
}

/** What the lead paw needs to know of a foot. */
export type StandingFoot = Pick<Foot, 'alongM' | 'alongSdM' | 'fromFrame' | 'toFrame'>

/** Half a paw's length: the contour's foremost point is its toes, a paw's place its middle, m. */
const TOES_M = 0.025
/** Longer before it lands no swinging paw is ahead of the standing one, s (common practice, no source). */
const SWING_S = 0.22
/** A paw swings past the standing one about this long before it lands, s (common practice, no source). */
const PASS_S = 0.12

/**
 * The foremost paw, planted or in the air: a planted one stands where its footfall is; between two footfalls the
 * outline's foremost low point is followed, kept between the place left and the place reached next.
 *
 * @param frame index; @param feet of one stay
 * @param ptsS time of each frame, s
 * @param lowestFront the outline's foremost low point between two places along in this frame, m; null where it shows
 *   none or was not followed
 * @returns null before the first and after the last foot
 */
export function leadPawIn(
  frame: number,
  ptsS: Float64Array,
  feet: readonly StandingFoot[],
  lowestFront: (fromM: number, toM: number) => number | null,
): LeadPaw | null {
  const t = ptsS[frame]!
  const standing = feet.filter((f) => f.fromFrame <= frame && f.toFrame >= frame)
  const landed = feet.filter((f) => f.fromFrame <= frame)
  if (landed.length === 0) return null
  const stood = standing.length > 0 ? standing : [landed.reduce((a, b) => (b.toFrame > a.toFrame ? b : a))]
  const lead = stood.reduce((a, b) => (b.alongM > a.alongM ? b : a))
  const next = feet
    .filter((f) => f.fromFrame > frame && f.alongM > lead.alongM + 0.03 && ptsS[f.fromFrame]! - t < 0.6)
    .reduce<StandingFoot | null>((a, b) => (a === null || b.fromFrame < a.fromFrame ? b : a), null)
  if (next === null) {
    if (standing.length > 0) return { alongM: lead.alongM, sdM: lead.alongSdM }
    // In flight off the plank: only the outline tells.
    const front = lowestFront(lead.alongM, lead.alongM + 1)
    return front === null
      ? { alongM: lead.alongM, sdM: 0.2 }
      : { alongM: Math.max(lead.alongM, front - TOES_M), sdM: 0.08 }
  }
  const stepM = next.alongM - lead.alongM
  const landS = (ptsS[next.fromFrame]! + ptsS[Math.max(0, next.fromFrame - 1)]!) / 2
  if (landS - t > SWING_S)
    return { alongM: lead.alongM, sdM: Math.hypot(lead.alongSdM, standing.length > 0 ? 0 : 0.05) }
  const share = Math.min(1, Math.max(0, 1 - (landS - t) / PASS_S))
  const swung = lead.alongM + stepM * share * share * (3 - 2 * share)
  const swungSd = 0.015 + 0.25 * stepM * Math.max(0.25, 4 * share * (1 - share))
  const front = lowestFront(lead.alongM - 0.05, next.alongM + 0.08)
  const seen = front === null ? NaN : Math.min(next.alongM, Math.max(lead.alongM, front - TOES_M))
  const seenSd = 0.06
  // What is low in front of the paws may also be a shadow or somebody's leg: it must agree with the swing.
  if (!(Math.abs(seen - swung) < 2.5 * Math.hypot(swungSd, seenSd))) {
    return { alongM: swung, sdM: Math.hypot(swungSd, lead.alongSdM) }
  }
  const weight = swungSd ** 2 / (swungSd ** 2 + seenSd ** 2)
  return {
    alongM: weight * seen + (1 - weight) * swung,
    sdM: Math.hypot(Math.sqrt(weight) * seenSd, lead.alongSdM),
  }
}

/**
 * The foremost column, coming from `fromM`, in which the outline comes down to paw height, m along; null where none does.
 *
 * @param strip of one frame, and @param grid its cells
 * @param fromM,toM where to look
 * @param topM the outline's upper edge over `alongM` in this frame, m
 * @param pawReachM up to which height over the plank a swinging paw is looked for, m
 */
export function foremostLow(
  strip: Strip,
  grid: StripGrid,
  fromM: number,
  toM: number,
  topM: (alongM: number) => number,
  pawReachM: number,
): number | null {
  const first = Math.max(0, Math.round((fromM - grid.fromAlongM) / grid.cellM))
  const last = Math.min(grid.columns - 1, Math.round((toM - grid.fromAlongM) / grid.cellM))
  const need = Math.max(2, Math.round(0.02 / grid.cellM))
  let found: number | null = null
  let run = 0
  for (let column = first; column <= last; column++) {
    const top = topM(grid.fromAlongM + column * grid.cellM)
    const low = Math.round((top + 0.008 - grid.fromAboveM) / grid.cellM)
    const high = Math.min(grid.rows - 1, Math.round((top + pawReachM - grid.fromAboveM) / grid.cellM))
    let strange = 0
    for (let row = Math.max(0, low); row <= high; row++) {
      const v = strip.strangeness[row * grid.columns + column]!
      if (v !== UNKNOWN_CELL && v > 35) strange++
    }
    run = strange >= need ? run + 1 : 0
    if (run >= 2) found = grid.fromAlongM + column * grid.cellM
  }
  return found
}

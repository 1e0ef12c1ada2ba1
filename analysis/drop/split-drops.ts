import type { BoardTrack } from '../board/board-track.ts'
import { MOVED_M } from '../ride/board-events.ts'
import { turnForDrop } from '../ride/board-curve.ts'

/** Frames of one drop: the first, and the one after the last. */
export interface DropSpan {
  readonly from: number
  readonly to: number
}

/** Less than this share of the whole swing is a dip, not a fall: a hand that rests on the plank. */
const FALL_SHARE = 0.5
/** A board that is back stays so long before it falls again, s: long enough to lay a weight on. */
const HOME_S = 0.3

/**
 * Parts a clip of several drops: a part ends when the board has come back to rest and another fall follows.
 *
 * @param track the board's angle through the clip, rad
 * @returns spans that follow one another and cover all frames, one for each fall; a single one where the board falls
 *   once or never
 */
export function splitDrops(track: BoardTrack): readonly DropSpan[] {
  const { ptsS, angleRad, seen, restAngleRad: restRad, lengthM } = track
  const homeRad = restRad + turnForDrop(MOVED_M, restRad, lengthM)
  // On level ground a board comes down as steep as it rested.
  const fallenRad = restRad + FALL_SHARE * -2 * restRad
  const cuts: number[] = []
  let hasFallen = false
  /** First frame of the rest that the board has been in since; -1 while it is away. */
  let homeAt = -1
  let cut = -1
  for (let k = 0; k < ptsS.length; k++) {
    if (seen[k] === 0 || Number.isNaN(angleRad[k])) continue
    if (angleRad[k]! < homeRad) {
      if (homeAt < 0) homeAt = k
      if (hasFallen && cut < 0 && ptsS[k]! - ptsS[homeAt]! >= HOME_S) cut = homeAt + 1
      continue
    }
    homeAt = -1
    if (angleRad[k]! <= fallenRad || !isFallen(track, k, fallenRad)) continue
    if (cut > 0) cuts.push(cut)
    hasFallen = true
    cut = -1
  }
  const edges = [0, ...cuts, ptsS.length]
  return edges.slice(1).map((to, n) => ({ from: edges[n]!, to }))
}

/** Two frames in a row: a single wild one is no fall. */
function isFallen({ angleRad, seen }: BoardTrack, k: number, fallenRad: number): boolean {
  const next = seen.findIndex((value, n) => n > k && value === 1)
  return next > 0 && angleRad[next]! > fallenRad
}

/**
 * A part of a track.
 *
 * @param track the board's angle, rad, over times, s
 * @param span frames, the last excluded
 * @returns the same board through those frames only
 */
export function trackWithin(track: BoardTrack, { from, to }: DropSpan): BoardTrack {
  const { ptsS, angleRad, sdRad, seen } = track
  return {
    ...track,
    ptsS: ptsS.slice(from, to),
    angleRad: angleRad.slice(from, to),
    sdRad: sdRad.slice(from, to),
    seen: seen.slice(from, to),
  }
}

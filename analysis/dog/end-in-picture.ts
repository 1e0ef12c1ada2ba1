import type { PlankFilm } from './plank-film.ts'
import { UNKNOWN_CELL } from './strip.ts'
import type { StripGrid } from './strip-grid.ts'

/** An end of the plank is looked for so far above it, m. */
const ABOVE_M = 0.05
/** So much of the plank's end is looked at, m. */
const END_M = 0.3

/**
 * The row of a strip by which an end of the plank counts as in the picture.
 *
 * @param grid of the strips
 * @returns index from the lowest row
 */
export function endRow({ fromAboveM, cellM }: StripGrid): number {
  return Math.round((ABOVE_M - fromAboveM) / cellM)
}

/**
 * Whether an end of the plank is in the picture.
 *
 * @param film strips of a stretch
 * @param frame index
 * @param endM 0 for the entry end, the plank's length for the exit end, m
 * @returns true when at least half of its last 30 cm is known in that frame
 */
export function endIsSeen(film: PlankFilm, frame: number, endM: number): boolean {
  const strip = film.strips[frame]
  if (strip == null) return false
  const { grid } = film
  const row = endRow(grid)
  const from = Math.round(((endM === 0 ? 0 : endM - END_M) - grid.fromAlongM) / grid.cellM)
  const count = Math.round(END_M / grid.cellM)
  let seen = 0
  for (let c = from; c < from + count; c++) if (strip.deviation[row * grid.columns + c] !== UNKNOWN_CELL) seen++
  return seen > count / 2
}

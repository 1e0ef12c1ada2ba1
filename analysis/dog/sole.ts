import { median } from '../numeric/robust.ts'
import type { Streak } from './streaks.ts'
import { UNKNOWN_CELL, type Strip, type StripGrid } from './strip.ts'

/** How a standing foot meets the plank, read from the rows between the plank's near edge and the leg above. */
export interface Sole {
  /** Lowest strange row while it stands, m above the near edge in its plane; null where nothing is clear. */
  readonly heightM: number | null
  /** Foreground some way up the leg, sd: a foot has a leg. */
  readonly legStrength: number
  /** Foreground on the plank's top face, its strongest row between 0.4 and 0.85 of the way across, sd. */
  readonly topFaceStrength: number
}

const STRANGE = 2.2

/**
 * Looks at one standing foot over the frames of its streak.
 *
 * @param topM outline's upper edge at the foot, m above the near edge, per frame
 * @param grid the cells of the strips
 * @param strips one a frame, null where the plank was not followed
 * @returns where the sole ends and how much of a leg, and of the top face, is covered
 */
export function soleOf(
  streak: Streak,
  strips: readonly (Strip | null)[],
  grid: StripGrid,
  topM: (frame: number) => number,
): Sole {
  const heights: number[] = []
  const legs: number[] = []
  const faces: number[] = []
  for (let k = streak.fromFrame; k <= streak.toFrame; k++) {
    const strip = strips[k]
    if (strip == null) continue
    const low = lowestStrange(strip, grid, streak, topM(k))
    if (low !== null) heights.push(low)
    legs.push(legStrength(strip, grid, streak.alongM, topM(k)))
    faces.push(topFaceStrength(strip, grid, streak, topM(k)))
  }
  return {
    heightM: heights.length > 0 ? median(heights) : null,
    legStrength: legs.length > 0 ? median(legs) : 0,
    topFaceStrength: faces.length > 0 ? median(faces) : 0,
  }
}

function lowestStrange(strip: Strip, grid: StripGrid, streak: Streak, topM: number): number | null {
  const { from, to } = soleColumns(grid, streak)
  const bottomRow = Math.round((-0.005 - grid.fromAboveM) / grid.cellM)
  const topRow = Math.round((topM + 0.035 - grid.fromAboveM) / grid.cellM)
  let lowest: number | null = null
  for (let row = topRow; row >= bottomRow; row--) {
    const mean = meanStrangeness(strip, grid, from, to, row, row)
    if (mean === null) continue
    if (mean > STRANGE) lowest = grid.fromAboveM + row * grid.cellM
    else if (lowest !== null) break
  }
  return lowest
}

function soleColumns(grid: StripGrid, streak: Streak): { from: number; to: number } {
  const half = Math.max(0.012, 0.3 * Math.min(streak.widthM, 0.08))
  return {
    from: Math.max(0, Math.round((streak.alongM - half - grid.fromAlongM) / grid.cellM)),
    to: Math.min(grid.columns - 1, Math.round((streak.alongM + half - grid.fromAlongM) / grid.cellM)),
  }
}

function topFaceStrength(strip: Strip, grid: StripGrid, streak: Streak, topM: number): number {
  const { from, to } = soleColumns(grid, streak)
  const low = Math.round((0.4 * topM - grid.fromAboveM) / grid.cellM)
  const high = Math.round((0.85 * topM - grid.fromAboveM) / grid.cellM)
  let best = 0
  for (let row = low; row <= high; row++) best = Math.max(best, meanStrangeness(strip, grid, from, to, row, row) ?? 0)
  return best
}

function legStrength(strip: Strip, grid: StripGrid, alongM: number, topM: number): number {
  const from = Math.round((topM + 0.035 - grid.fromAboveM) / grid.cellM)
  const to = Math.min(grid.rows - 1, Math.round((topM + 0.08 - grid.fromAboveM) / grid.cellM))
  let best = 0
  for (let shift = -0.05; shift <= 0.05; shift += 0.01) {
    const column = Math.round((alongM + shift - grid.fromAlongM) / grid.cellM)
    if (column < 0 || column >= grid.columns) continue
    best = Math.max(best, meanStrangeness(strip, grid, column, column, from, to) ?? 0)
  }
  return best
}

/**
 * Mean of a block of cells, in sd, each cell at most 10; null where none is known.
 *
 * @param fromColumn first column of the block
 * @param fromRow first row of the block
 * @param grid the cells of the strips
 * @param strip the strip of this frame, null where the plank was not followed
 * @param toColumn last column of the block
 * @param toRow last row of the block
 */
export function meanStrangeness(
  strip: Strip,
  grid: StripGrid,
  fromColumn: number,
  toColumn: number,
  fromRow: number,
  toRow: number,
): number | null {
  let sum = 0
  let count = 0
  for (let row = Math.max(0, fromRow); row <= Math.min(grid.rows - 1, toRow); row++) {
    for (let column = fromColumn; column <= toColumn; column++) {
      const v = strip.strangeness[row * grid.columns + column]!
      if (v === UNKNOWN_CELL) continue
      sum += Math.min(v, 100)
      count++
    }
  }
  return count === 0 ? null : sum / count / 10
}

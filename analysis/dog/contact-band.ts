import { quantile } from '../numeric/robust.ts'
import { UNKNOWN_CELL, type Strip, type StripGrid } from './strip.ts'

/**
 * The foot of everything that stands on or passes the plank: for each frame and column the mean strangeness just above
 * the plank's visible outline, or on its top face where that is stranger (a pale leg before a pale background). Planted paws are level streaks in it, swinging legs slanted ones.
 */
export interface ContactBand {
  readonly ptsS: Float64Array
  readonly columns: number
  readonly cellM: number
  readonly fromAlongM: number
  /** sd above the column's habit, frame by frame; NaN where unknown. */
  readonly values: Float32Array
  /** The same just below the plank: a person's legs go on there, a dog's do not. */
  readonly below: Float32Array
}

/** Height of the band, m. */
const BAND_M = 0.03
/** A dog's shadow makes the top face about this strange, sd. */
const SHADOW_SD = 4
/** Narrower than the smallest dog's paw, m. */
const SOLE_M = 0.02

/**
 * @param strips one a frame, null where the plank was not followed
 * @param clearBelow true where what shows under the plank says much: away from base, ground and shadows
 * @param top outline's upper edge of a frame at a column's place along, m; @param bottom likewise the lower edge
 * @param grid the cells of the strips
 * @param ptsS time of each frame, s
 */
export function contactBand(
  strips: readonly (Strip | null)[],
  ptsS: Float64Array,
  grid: StripGrid,
  top: (frame: number, alongM: number) => number,
  bottom: (frame: number, alongM: number) => number,
  clearBelow: (frame: number, alongM: number) => boolean,
): ContactBand {
  const { columns, rows, cellM, fromAboveM, fromAlongM } = grid
  const values = new Float32Array(strips.length * columns).fill(NaN)
  const below = new Float32Array(strips.length * columns).fill(NaN)
  strips.forEach((strip, k) => {
    if (strip === null) return
    for (let column = 0; column < columns; column++) {
      const along = fromAlongM + column * cellM
      const topM = top(k, along)
      const from = (topM - fromAboveM) / cellM
      const near = -fromAboveM / cellM
      const over = meanRows(strip, columns, rows, column, from + 0.7, from + 0.7 + BAND_M / cellM)
      const face =
        topM / cellM < 3.5 ? NaN : meanRows(strip, columns, rows, column, near + 0.25 * (from - near), from - 1)
      values[k * columns + column] = face - SHADOW_SD > over ? face - SHADOW_SD : over
      if (!clearBelow(k, along)) continue
      const to = (bottom(k, along) - fromAboveM) / cellM
      below[k * columns + column] = meanRows(strip, columns, rows, column, to - 1 - BAND_M / cellM, to - 1)
    }
  })
  smoothAlong(values, strips.length, columns, Math.round((0.5 * SOLE_M) / cellM))
  for (const field of [values, below]) {
    subtractHabit(field, strips, columns)
    subtractBreadth(field, strips.length, columns, cellM)
  }
  return { ptsS, columns, cellM, fromAlongM, values, below }
}

/** Running mean over `2 reach + 1` columns. */
function smoothAlong(values: Float32Array, frames: number, columns: number, reach: number): void {
  const row = new Float32Array(columns)
  for (let k = 0; k < frames; k++) {
    row.set(values.subarray(k * columns, (k + 1) * columns))
    for (let column = 0; column < columns; column++) {
      if (Number.isNaN(row[column]!)) continue
      let sum = 0
      let count = 0
      for (let c = Math.max(0, column - reach); c <= Math.min(columns - 1, column + reach); c++) {
        if (Number.isNaN(row[c]!)) continue
        sum += row[c]!
        count++
      }
      values[k * columns + column] = sum / count
    }
  }
}

function meanRows(strip: Strip, columns: number, rows: number, column: number, from: number, to: number): number {
  let sum = 0
  let count = 0
  for (let row = Math.max(0, Math.round(from)); row <= Math.min(rows - 1, Math.round(to)); row++) {
    const v = strip.strangeness[row * columns + column]!
    if (v === UNKNOWN_CELL) continue
    sum += Math.min(v, 100)
    count++
  }
  return count === 0 ? NaN : sum / count / 10
}

/**
 * A column that is a little strange all the time (a flag in the wind, a seam of the plank) is so by habit: its lower
 * fifth over the frames with the same board position, at most 3 sd, is taken off.
 */
function subtractHabit(values: Float32Array, strips: readonly (Strip | null)[], columns: number): void {
  const angles = strips.map((s) => s?.angleRad ?? NaN)
  const states = angles.map((a) => (Number.isNaN(a) ? -1 : Math.round(a / 0.035)))
  const groups = new Map<number, number[]>()
  states.forEach((state, k) => {
    if (state === -1) return
    const group = groups.get(state)
    if (group === undefined) groups.set(state, [k])
    else group.push(k)
  })
  for (const frames of groups.values()) {
    if (frames.length < 8) continue
    for (let column = 0; column < columns; column++) {
      const seen = frames.map((k) => values[k * columns + column]!).filter((v) => !Number.isNaN(v))
      if (seen.length < 8) continue
      const habit = Math.min(3, quantile(seen, 0.2))
      for (const k of frames) values[k * columns + column]! -= habit
    }
  }
}

/** A paw is narrow: what is as strange half a metre around (a shadow, a shaken background) is taken off. */
function subtractBreadth(values: Float32Array, frames: number, columns: number, cellM: number): void {
  const reach = Math.round(0.3 / cellM)
  const stride = Math.max(1, Math.round(0.02 / cellM))
  const row = new Float32Array(columns)
  for (let k = 0; k < frames; k++) {
    for (let column = 0; column < columns; column += stride) {
      const near: number[] = []
      for (let c = Math.max(0, column - reach); c <= Math.min(columns - 1, column + reach); c += stride) {
        const v = values[k * columns + c]!
        if (!Number.isNaN(v)) near.push(v)
      }
      const breadth = near.length < 5 ? 0 : Math.max(0, quantile(near, 0.35))
      for (let c = column; c < Math.min(columns, column + stride); c++) row[c] = breadth
    }
    for (let column = 0; column < columns; column++) values[k * columns + column]! -= row[column]!
  }
}

import { median, quantile, tukeyWeight } from '../numeric/robust.ts'
import type { Bar } from './bars.ts'

/** The outline of a plank in one picture, decoded px: two long edges as lines `row = atZero + slope * column`, two ends. */
export interface PlankOutlineSeen {
  readonly upper: Line
  readonly lower: Line
  readonly fromColumn: number
  readonly toColumn: number
}

export interface Line {
  readonly slope: number
  readonly atZero: number
}

/** A difference below this says nothing, grey levels. */
const LEAST_LEVEL = 12
/** No plank looks thicker than this share of its length. */
const THICKEST = 0.05
/** An edge that runs so differently from the bar belongs to something else. */
const OTHER_SLOPE = 0.06
/** So many columns must show an edge. */
const LEAST_COLUMNS = 30
/** The ends are left out where edges are looked for, share of the length: they are rounded by the median. */
const END_SHARE = 0.03
/** Where an end is looked for: beside it the plank's own difference is learnt from here on, for this share of the length, */
const LEARNT_FROM = 0.1
const LEARNT_SHARE = 0.08
/** and followed for this share beyond; a gap of more than this ends it. */
const BEYOND_SHARE = 0.06
const GAP_SHARE = 0.02
/** Rounds of fitting a line. */
const LINE_ROUNDS = 20
/** Rows are believed to this at least, px, and to so many times their median misfit. */
const LEAST_SCALE_PX = 0.2
const SCALES = 1.5

/**
 * The edges of a plank to a part of a pixel, from where the picture with it begins to differ from one without it.
 *
 * @param levels difference of both pictures, grey levels, row by row; `size` in px
 * @param size see `levels`
 * @param bar roughly where the plank lies
 * @returns null where too little of the plank stands out
 */
export function seeOutline(
  levels: Float32Array,
  size: { readonly widthPx: number; readonly heightPx: number },
  bar: Bar,
): PlankOutlineSeen | null {
  const length = bar.toColumn - bar.fromColumn
  const reach = THICKEST * length
  const columns: number[] = []
  const uppers: number[] = []
  const lowers: number[] = []
  for (
    let column = Math.ceil(bar.fromColumn + END_SHARE * length);
    column <= bar.toColumn - END_SHARE * length;
    column++
  ) {
    const seen = seeColumn(levels, size, column, bar.atZero + bar.slope * column, reach)
    if (seen === null) continue
    columns.push(column)
    uppers.push(seen.upper)
    lowers.push(seen.lower)
  }
  if (columns.length < LEAST_COLUMNS) return null
  const upper = robustLine(columns, uppers)
  const lower = robustLine(columns, lowers)
  if (Math.abs(upper.slope - bar.slope) > OTHER_SLOPE || Math.abs(lower.slope - bar.slope) > OTHER_SLOPE) return null
  const middle = { slope: (upper.slope + lower.slope) / 2, atZero: (upper.atZero + lower.atZero) / 2 }
  const fromColumn = seeEnd(levels, size, middle, bar, -1)
  const toColumn = seeEnd(levels, size, middle, bar, 1)
  return { upper, lower, fromColumn, toColumn }
}

/** Where the difference begins and ends in one column; null where it is weak or too thick for a plank. */
function seeColumn(
  levels: Float32Array,
  { widthPx, heightPx }: { readonly widthPx: number; readonly heightPx: number },
  column: number,
  row: number,
  reach: number,
): { upper: number; lower: number } | null {
  const at = (r: number) => (r >= 0 && r < heightPx ? levels[r * widthPx + column]! : 0)
  let peak = Math.round(row)
  for (let r = Math.round(row) - 3; r <= row + 3; r++) if (at(r) > at(peak)) peak = r
  const half = Math.max(LEAST_LEVEL, at(peak) / 2)
  if (at(peak) < half) return null
  const edge = (step: 1 | -1): number | null => {
    for (let r = peak; Math.abs(r - peak) <= reach; r += step) {
      const [inside, outside] = [at(r), at(r + step)]
      if (outside < half) return r + (step * (inside - half)) / Math.max(1e-6, inside - outside)
    }
    return null
  }
  const upper = edge(-1)
  const lower = edge(1)
  return upper === null || lower === null ? null : { upper, lower }
}

/** Where the plank stops standing out along its middle line, walking outwards from well inside. */
function seeEnd(
  levels: Float32Array,
  { widthPx, heightPx }: { readonly widthPx: number; readonly heightPx: number },
  middle: Line,
  bar: Bar,
  direction: 1 | -1,
): number {
  const length = bar.toColumn - bar.fromColumn
  const end = direction === 1 ? bar.toColumn : bar.fromColumn
  const at = (column: number): number => {
    const row = Math.round(middle.atZero + middle.slope * column)
    if (row < 1 || row >= heightPx - 1 || column < 0 || column >= widthPx) return 0
    const i = row * widthPx + column
    return Math.max(levels[i]!, levels[i - widthPx]!, levels[i + widthPx]!)
  }
  const from = Math.round(end - direction * LEARNT_FROM * length)
  const within = Array.from({ length: Math.round(LEARNT_SHARE * length) }, (_, k) => at(from + direction * k))
  const half = Math.max(LEAST_LEVEL, quantile(within, 0.5) / 2)
  let last = from
  for (let column = from; direction * (column - end) < BEYOND_SHARE * length; column += direction) {
    if (at(column) >= half) last = column
    else if (direction * (column - last) > GAP_SHARE * length) break
  }
  const [inside, outside] = [at(last), at(last + direction)]
  return last + direction * Math.min(1, (inside - half) / Math.max(1e-6, inside - outside))
}

/** A line that a few wild rows cannot pull. */
function robustLine(columns: readonly number[], rows: readonly number[]): Line {
  let slope = 0
  let atZero = median(rows)
  let scale = Infinity
  for (let round = 0; round < LINE_ROUNDS; round++) {
    let [n, x, y, xx, xy] = [0, 0, 0, 0, 0]
    for (const [k, column] of columns.entries()) {
      const off = rows[k]! - atZero - slope * column
      const weight = Number.isFinite(scale) ? tukeyWeight(off / scale) : 1
      n += weight
      x += weight * column
      y += weight * rows[k]!
      xx += weight * column * column
      xy += weight * column * rows[k]!
    }
    const spread = n * xx - x * x
    if (!(spread > 0)) break
    slope = (n * xy - x * y) / spread
    atZero = (y - slope * x) / n
    const offs = columns.map((column, k) => Math.abs(rows[k]! - atZero - slope * column))
    scale = Math.max(LEAST_SCALE_PX, SCALES * median(offs))
  }
  return { slope, atZero }
}

import { columnAt, likelyGain, type PlankStrip } from './plank-strip.ts'

/** Mean colours of a stretch of the plank, row by row from the lowest; three numbers a row. */
export interface AcrossProfile {
  readonly rows: number
  readonly seen: Float64Array
  /** What was behind, in today's light below and above the plank. */
  readonly below: Float64Array
  readonly above: Float64Array
}

/** Rows of a strip, the first and the one after the last. */
export type RowSpan = readonly [number, number]

/** A column is hidden where so much differs right above the plank from what was behind, grey levels. */
const HIDDEN = 22
const LEAST_COLUMNS = 16

/**
 * Averages a stretch of a straightened picture along the plank, without the columns in which a dog stands on it.
 *
 * @param strip straightened picture
 * @param along the stretch, m
 * @param over rows that surely lie above the plank
 * @param under rows that surely lie below it
 * @returns null where the stretch is hidden or outside the picture
 */
export function acrossProfile(
  strip: PlankStrip,
  along: readonly [number, number],
  over: RowSpan,
  under: RowSpan,
): AcrossProfile | null {
  const columns: number[] = []
  for (let column = Math.ceil(columnAt(strip, along[0])); column <= columnAt(strip, along[1]); column++) {
    if (isInside(strip, column) && differenceIn(strip, column, over) <= HIDDEN) columns.push(column)
  }
  if (columns.length < LEAST_COLUMNS) return null
  const seen = meansOf(strip.seen, strip, columns)
  const behind = meansOf(strip.behind, strip, columns)
  const [lower, upper] = [gainIn(seen, behind, under), gainIn(seen, behind, over)]
  return {
    rows: strip.rows,
    seen,
    below: behind.map((value) => lower * value),
    above: behind.map((value) => upper * value),
  }
}

function isInside({ rows, columns, seen, behind }: PlankStrip, column: number): boolean {
  return [0, rows - 1].every((row) => {
    const i = 3 * (row * columns + column)
    return !Number.isNaN(seen[i]! + behind[i]!)
  })
}

function differenceIn({ columns, seen, behind }: PlankStrip, column: number, [from, to]: RowSpan): number {
  let sum = 0
  for (let row = from; row < to; row++) {
    const i = 3 * (row * columns + column)
    sum += Math.hypot(seen[i]! - behind[i]!, seen[i + 1]! - behind[i + 1]!, seen[i + 2]! - behind[i + 2]!)
  }
  return to > from ? sum / (to - from) : 0
}

function meansOf(values: Float32Array, strip: PlankStrip, columns: readonly number[]): Float64Array {
  const means = new Float64Array(3 * strip.rows)
  for (let row = 0; row < strip.rows; row++) {
    for (const column of columns) {
      const i = 3 * (row * strip.columns + column)
      for (let c = 0; c < 3; c++) means[3 * row + c]! += values[i + c]! / columns.length
    }
  }
  return means
}

function gainIn(seen: Float64Array, behind: Float64Array, [from, to]: RowSpan): number {
  let product = 0
  let squares = 0
  for (let i = 3 * from; i < 3 * to; i++) {
    product += seen[i]! * behind[i]!
    squares += behind[i]! ** 2
  }
  return likelyGain(product, squares)
}

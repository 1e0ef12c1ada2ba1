/** A thin straight bar in a map: the line `row = atZero + slope * column` between two columns, decoded px. */
export interface Bar {
  readonly slope: number
  readonly atZero: number
  readonly fromColumn: number
  readonly toColumn: number
  /** How much of the map's width is filled by it, in columns less doubt. */
  readonly score: number
}

/** A resting or landed plank is seen at such slopes, deg: rule books and yaw give 8 to 30. */
const LEAST_DEG = 5
const MOST_DEG = 34
/** A change must be this sure to count for a bar. */
const DOUBT = 0.4
/** Beside a bar, this share of the width away, nothing has changed: a dog is thicker. */
const BESIDE = 0.016
const COLUMN_STEP = 3
const OFFSET_STEP = 2
/** Shorter than this share of the width is no plank worth measuring. */
const LEAST_SCORE = 0.1
const KEPT = 40

/** A place that bars must pass, decoded px: rows above or below it by at most `within`. */
export interface Passage {
  readonly column: number
  readonly row: number
  readonly within: number
}

/**
 * The longest thin straight bars of one direction in a map of changes: along every line the stretch in which most has
 * changed on the line and least beside it (the maximum subarray of Kadane).
 *
 * @param map 0 to 1, row by row; its `size` in px
 * @param size see `map`
 * @param direction 1 for bars that fall to the right in the picture, -1 for those that rise
 * @param through bars that pass elsewhere are not looked for, when given
 * @returns at most 40, the best first; none where nothing thin and straight has changed
 */
export function findBars(
  map: Float32Array,
  size: { readonly widthPx: number; readonly heightPx: number },
  direction: 1 | -1,
  through?: Passage,
): Bar[] {
  const { widthPx, heightPx } = size
  const found: Bar[] = []
  for (let deg = LEAST_DEG; deg <= MOST_DEG; deg++) {
    const slope = direction * Math.tan((deg * Math.PI) / 180)
    const beside = Math.max(5, BESIDE * widthPx) * Math.hypot(1, slope)
    const rise = Math.abs(slope) * widthPx
    const middle = through === undefined ? heightPx / 2 : through.row - slope * through.column
    const reach = through === undefined ? heightPx / 2 + rise : through.within
    for (let atZero = middle - reach; atZero <= middle + reach; atZero += OFFSET_STEP) {
      const bar = bestStretch(map, widthPx, heightPx, slope, atZero, beside)
      if (bar.score > LEAST_SCORE * widthPx) found.push(bar)
    }
  }
  return found.sort((a, b) => b.score - a.score).slice(0, KEPT)
}

function bestStretch(
  map: Float32Array,
  widthPx: number,
  heightPx: number,
  slope: number,
  atZero: number,
  beside: number,
): Bar {
  const at = (row: number, column: number) =>
    row >= 0 && row < heightPx ? map[Math.floor(row) * widthPx + column]! : 0
  let best = 0
  let fromColumn = 0
  let toColumn = 0
  let run = 0
  let start = 0
  for (let column = 0; column < widthPx; column += COLUMN_STEP) {
    const row = atZero + slope * column + 0.5
    const on = Math.max(at(row - 1, column), at(row, column), at(row + 1, column))
    const off = (at(row - beside, column) + at(row + beside, column)) / 2
    if (run <= 0) {
      run = 0
      start = column
    }
    run += on - off - DOUBT
    if (run > best) {
      best = run
      fromColumn = start
      toColumn = column
    }
  }
  return { slope, atZero, fromColumn, toColumn, score: COLUMN_STEP * best }
}

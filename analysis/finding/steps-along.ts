import { alongOf, columnAt, type PlankStrip, rowAt } from './plank-strip.ts'

/** A place along the plank at which its near face changes colour or ends. */
export interface StepAlong {
  readonly alongM: number
  readonly sdM: number
}

/** The rows of the near face that are looked at, m over the near top edge. */
export interface FaceRows {
  readonly fromM: number
  readonly toM: number
}

/** Colours are learnt from this far on either side, m. */
const SIDE_M = 0.2
const OUTSIDE_M = 0.1
/** Colours on both sides must differ by this, grey levels. */
const LEAST_STEP = 9
/** The best place must explain the picture so much better than no step at all. */
const EXPLAINED = 0.5
const SHADOW_GAIN = [0.3, 1.25] as const
/** The mixture of both sides is summed up over so many columns on either side. */
const MIXED = 4
const LEAST_SD_COLUMNS = 0.15
const SCATTER = 5

/**
 * The border between a zone and the middle of the plank: where one colour of the near face gives way to another.
 *
 * @param strip straightened picture
 * @param expectedM where it should be along the plank
 * @param reachM how far from there it is looked for
 * @param face rows of the near face
 * @returns null where no clear change of colour is near
 */
export function seeBorder(strip: PlankStrip, expectedM: number, reachM: number, face: FaceRows): StepAlong | null {
  const columns = faceColumns(strip, expectedM - reachM - SIDE_M, expectedM + reachM + SIDE_M, face)
  if (columns === null) return null
  const { from, colours } = columns
  const sums = cumulative(colours)
  const within = (a: number, b: number) => spread(sums, a, b)
  const count = colours.length
  const side = Math.round(SIDE_M / strip.columnM)
  const window = (at: number) => [Math.max(0, at - side), Math.min(count, at + side)] as const
  const best = bestSplit(strip, from, expectedM, reachM, count, (at) => {
    const [a, b] = window(at)
    return { split: within(a, at) + within(at, b), whole: within(a, b) }
  })
  if (best === null) return null
  const [a, b] = window(best)
  const left = meanOf(sums, a, best - 2)
  const right = meanOf(sums, best + 2, b)
  const mixed = mixture(colours, best, () => [left, right])
  return mixed === null ? null : { alongM: alongOf(strip, from + mixed.at - 0.5), sdM: mixed.sdColumns * strip.columnM }
}

/**
 * The end of the plank: where the near face gives way to what was behind it.
 *
 * @param strip straightened picture
 * @param expectedM where it should be along the plank
 * @param reachM how far from there it is looked for
 * @param face rows of the near face
 * @param outwards 1 for the exit end, -1 for the entry end
 * @returns null where plank and background look alike, or something hides the end
 */
export function seeEnd(
  strip: PlankStrip,
  expectedM: number,
  reachM: number,
  face: FaceRows,
  outwards: 1 | -1,
): StepAlong | null {
  const inside = reachM + SIDE_M
  const outside = reachM + OUTSIDE_M
  const [fromM, toM] = outwards === 1 ? [-inside, outside] : [-outside, inside]
  const columns = faceColumns(strip, expectedM + fromM, expectedM + toM, face)
  if (columns === null) return null
  const { from, colours, behind } = columns
  const sums = cumulative(colours)
  const behindSums = cumulativeProducts(colours, behind)
  const count = colours.length
  const best = bestSplit(strip, from, expectedM, reachM, count, (at) => {
    const [plank, ground] =
      outwards === 1
        ? [
            [0, at],
            [at, count],
          ]
        : [
            [at, count],
            [0, at],
          ]
    return {
      split: spread(sums, plank[0]!, plank[1]!) + offBehind(behindSums, ground[0]!, ground[1]!),
      whole: Math.min(spread(sums, 0, count), Infinity),
    }
  })
  if (best === null) return null
  const face3 = outwards === 1 ? meanOf(sums, 0, best - 2) : meanOf(sums, best + 2, count)
  const gain = outwards === 1 ? gainOf(behindSums, best + 2, count) : gainOf(behindSums, 0, best - 2)
  const mixed = mixture(colours, best, (k) => {
    const ground = behind[k]!.map((row) => row.map((value) => gain * value))
    return outwards === 1 ? [face3, ground] : [ground, face3]
  })
  return mixed === null ? null : { alongM: alongOf(strip, from + mixed.at - 0.5), sdM: mixed.sdColumns * strip.columnM }
}

/** For each column the colours of its rows. */
type Column = readonly (readonly number[])[]

interface FaceColumns {
  /** Index of the first column in the strip. */
  readonly from: number
  readonly colours: readonly Column[]
  readonly behind: readonly Column[]
}

/** Null where the near face leaves the picture. */
function faceColumns(strip: PlankStrip, fromM: number, toM: number, face: FaceRows): FaceColumns | null {
  const from = Math.max(0, Math.round(columnAt(strip, fromM)))
  const to = Math.min(strip.columns - 1, Math.round(columnAt(strip, toM)))
  const [low, high] = [Math.ceil(rowAt(strip, face.fromM)), Math.floor(rowAt(strip, face.toM))]
  if (high < low) return null
  const of = (values: Float32Array, column: number): Column =>
    Array.from({ length: high - low + 1 }, (_, k) => {
      const i = 3 * ((low + k) * strip.columns + column)
      return [values[i]!, values[i + 1]!, values[i + 2]!]
    })
  const indices = Array.from({ length: to - from + 1 }, (_, k) => from + k)
  const inPicture = indices.filter((column) => of(strip.seen, column).every(([y]) => !Number.isNaN(y)))
  if (inPicture.length === 0) return null
  const [first, last] = [inPicture[0]!, inPicture.at(-1)!]
  if (last - first + 1 !== inPicture.length) return null
  return {
    from: first,
    colours: inPicture.map((column) => of(strip.seen, column)),
    behind: inPicture.map((column) => of(strip.behind, column)),
  }
}

/** Cumulative sums over columns: each row's colours, and all squares. */
interface Sums {
  readonly rows: number
  readonly sum: readonly Float64Array[]
  readonly squares: Float64Array
}

function cumulative(colours: readonly Column[]): Sums {
  const rows = colours[0]!.length
  const sum = Array.from({ length: 3 * rows }, () => new Float64Array(colours.length + 1))
  const squares = new Float64Array(colours.length + 1)
  for (const [k, column] of colours.entries()) {
    let total = 0
    column.forEach((row, r) =>
      row.forEach((value, c) => {
        const one = sum[3 * r + c]!
        one[k + 1] = one[k]! + value
        total += value * value
      }),
    )
    squares[k + 1] = squares[k]! + total
  }
  return { rows, sum, squares }
}

/** Squares that remain when each row has one colour from column `a` up to but without `b`. */
function spread({ sum, squares }: Sums, a: number, b: number): number {
  if (b - a < 1) return 0
  let rest = squares[b]! - squares[a]!
  for (const one of sum) rest -= (one[b]! - one[a]!) ** 2 / (b - a)
  return Math.max(0, rest)
}

function meanOf({ rows, sum }: Sums, a: number, b: number): number[][] {
  const width = Math.max(1, b - a)
  return Array.from({ length: rows }, (_, r) =>
    [0, 1, 2].map((c) => (sum[3 * r + c]![a + width]! - sum[3 * r + c]![a]!) / width),
  )
}

interface Products {
  readonly seen: Float64Array
  readonly both: Float64Array
  readonly behind: Float64Array
}

function cumulativeProducts(colours: readonly Column[], behind: readonly Column[]): Products {
  const sums = { seen: [0], both: [0], behind: [0] }
  for (const [k, column] of colours.entries()) {
    let [seen, both, back] = [0, 0, 0]
    column.forEach((row, r) =>
      row.forEach((value, c) => {
        const other = behind[k]![r]![c]!
        seen += value * value
        both += value * other
        back += other * other
      }),
    )
    sums.seen.push(sums.seen[k]! + seen)
    sums.both.push(sums.both[k]! + both)
    sums.behind.push(sums.behind[k]! + back)
  }
  return {
    seen: Float64Array.from(sums.seen),
    both: Float64Array.from(sums.both),
    behind: Float64Array.from(sums.behind),
  }
}

function gainOf({ both, behind }: Products, a: number, b: number): number {
  const squares = behind[b]! - behind[a]!
  const gain = squares > 0 ? (both[b]! - both[a]!) / squares : 1
  return Math.min(SHADOW_GAIN[1], Math.max(SHADOW_GAIN[0], gain))
}

/** Squares that remain when the columns are what was behind, lighter or darker by one factor. */
function offBehind(products: Products, a: number, b: number): number {
  if (b <= a) return 0
  const { seen, both, behind } = products
  const gain = gainOf(products, a, b)
  return Math.max(0, seen[b]! - seen[a]! - 2 * gain * (both[b]! - both[a]!) + gain * gain * (behind[b]! - behind[a]!))
}

/** The column before which the step lies; null where nothing near explains the picture much better than no step. */
function bestSplit(
  strip: PlankStrip,
  from: number,
  expectedM: number,
  reachM: number,
  count: number,
  costs: (at: number) => { split: number; whole: number },
): number | null {
  const first = Math.max(MIXED + 1, Math.round(columnAt(strip, expectedM - reachM)) - from)
  const last = Math.min(count - MIXED - 1, Math.round(columnAt(strip, expectedM + reachM)) - from + 1)
  let best: { at: number; split: number; whole: number } | null = null
  for (let at = first; at <= last; at++) {
    const cost = costs(at)
    if (best === null || cost.split < best.split) best = { at, ...cost }
  }
  if (best === null || best.at === first || best.at === last) return null
  return best.split < (1 - EXPLAINED) * best.whole ? best.at : null
}

/** The step's place to a part of a column: how many of the columns about it belong to the left side. */
function mixture(
  colours: readonly Column[],
  at: number,
  sides: (column: number) => readonly [readonly (readonly number[])[], readonly (readonly number[])[]],
): { at: number; sdColumns: number } | null {
  let left = 0
  let squares = 0
  let count = 0
  for (let k = at - MIXED; k < at + MIXED; k++) {
    const [a, b] = sides(k)
    let mixed = 0
    let weight = 0
    colours[k]!.forEach((row, r) =>
      row.forEach((value, c) => {
        const step = a[r]![c]! - b[r]![c]!
        mixed += (value - b[r]![c]!) * step
        weight += step * step
      }),
    )
    left += weight > 0 ? Math.min(1.5, Math.max(-0.5, mixed / weight)) : 0.5
    squares += weight
    count += colours[k]!.length
  }
  const step = Math.sqrt(squares / count)
  const place = at - MIXED + left
  if (step < LEAST_STEP || Math.abs(place - at) > MIXED / 2) return null
  return { at: place, sdColumns: Math.max(LEAST_SD_COLUMNS, (2 * SCATTER) / step / 2) }
}

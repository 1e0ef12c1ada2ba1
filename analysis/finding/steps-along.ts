import { alongOf, columnAt, likelyGain, type PlankStrip, rowAt } from './plank-strip.ts'

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
/** The mixture of both sides is summed up over so many columns on either side. */
const MIXED = 4
/** Colours next to a step are blurred over so many columns. */
const EDGE = 2
/** A sharpened picture overshoots at edges: mixtures beyond both sides count no further than this. */
const OVERSHOOT = 0.1
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
  const best = bestSplit(columnAt(strip, expectedM) - from, reachM / strip.columnM, count, (at) => {
    const [a, b] = window(at)
    return { split: within(a, at) + within(at, b), whole: within(a, b) }
  })
  if (best === null) return null
  const [a, b] = window(best)
  const left = meanOf(sums, a, best - EDGE)
  const right = meanOf(sums, best + EDGE, b)
  const mixed = mixture(colours, best, MIXED, () => [left, right])
  return mixed === null ? null : { alongM: alongOf(strip, from + mixed.at - 0.5), sdM: mixed.sdColumns * strip.columnM }
}

/**
 * The end of the plank's near face: where it gives way to the end face, if that is turned towards the camera, and this
 * to what was behind. An end face may have the colour of the near one or another.
 *
 * @param strip straightened picture
 * @param expectedM where it should be along the plank
 * @param reachM how far from there it is looked for
 * @param face rows of the near face
 * @param outwards 1 for the exit end, -1 for the entry end
 * @param endFaceM how far the end face reaches beyond the near one as seen, m; 0 when it is turned away
 * @returns null where plank and background look alike, or something hides the end
 */
export function seeEnd(
  strip: PlankStrip,
  expectedM: number,
  reachM: number,
  face: FaceRows,
  outwards: 1 | -1,
  endFaceM: number,
): StepAlong | null {
  const inside = reachM + SIDE_M
  const outside = reachM + endFaceM + OUTSIDE_M
  const [fromM, toM] = outwards === 1 ? [-inside, outside] : [-outside, inside]
  const columns = faceColumns(strip, expectedM + fromM, expectedM + toM, face)
  if (columns === null) return null
  // From here on the plank lies to the left.
  const colours = outwards === 1 ? columns.colours : columns.colours.toReversed()
  const behind = outwards === 1 ? columns.behind : columns.behind.toReversed()
  const count = colours.length
  const expected =
    outwards === 1 ? columnAt(strip, expectedM) - columns.from : columns.from + count - 1 - columnAt(strip, expectedM)
  const wide = Math.round(endFaceM / strip.columnM)
  const sums = cumulative(colours)
  const ground = cumulativeProducts(colours, behind)
  const best = bestSplit(expected, reachM / strip.columnM, count - wide, (at) => ({
    split: spread(sums, 0, at) + spread(sums, at, at + wide) + offBehind(ground, at + wide, count),
    whole: spread(sums, 0, count),
  }))
  if (best === null) return null
  const outer = best + wide
  const isWide = wide > 2 * EDGE
  const nearFace = meanOf(sums, 0, best - EDGE)
  const endFace = isWide ? meanOf(sums, best + EDGE, outer - EDGE) : nearFace
  const gain = gainOf(ground, outer + EDGE, count)
  const room = isWide ? Math.min(MIXED, wide >> 1) : MIXED
  const outerStep = mixture(colours, outer, room, (k) => [
    endFace,
    behind[k]!.map((row) => row.map((value) => gain * value)),
  ])
  const innerStep = isWide ? mixture(colours, best, room, () => [nearFace, endFace]) : null
  const ofOuter = outerStep === null ? null : { ...outerStep, at: outerStep.at - endFaceM / strip.columnM }
  // Of both the clearer one; the inner does not depend on how far the end face reaches.
  const isInner = innerStep !== null && innerStep.sdColumns <= (ofOuter?.sdColumns ?? Infinity)
  const step = isInner ? innerStep : ofOuter
  if (step === null) return null
  const column = outwards === 1 ? columns.from + step.at - 0.5 : columns.from + count - step.at - 0.5
  return { alongM: alongOf(strip, column), sdM: step.sdColumns * strip.columnM }
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
  return likelyGain(both[b]! - both[a]!, behind[b]! - behind[a]!)
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
  expected: number,
  reach: number,
  count: number,
  costs: (at: number) => { split: number; whole: number },
): number | null {
  const first = Math.max(MIXED + 1, Math.round(expected - reach))
  const last = Math.min(count - MIXED - 1, Math.round(expected + reach) + 1)
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
  room: number,
  sides: (column: number) => readonly [readonly (readonly number[])[], readonly (readonly number[])[]],
): { at: number; sdColumns: number } | null {
  let left = 0
  let squares = 0
  let count = 0
  for (let k = at - room; k < at + room; k++) {
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
    left += weight > 0 ? Math.min(1 + OVERSHOOT, Math.max(-OVERSHOOT, mixed / weight)) : 0.5
    squares += weight
    count += colours[k]!.length
  }
  const step = Math.sqrt(squares / count)
  const place = at - room + left
  if (step < LEAST_STEP || Math.abs(place - at) > room / 2 + 0.5) return null
  return { at: place, sdColumns: Math.max(LEAST_SD_COLUMNS, (2 * SCATTER) / step / 2) }
}

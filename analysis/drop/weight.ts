import type { PlankFilm } from '../dog/follow-dog.ts'
import { UNKNOWN_CELL, type Strip, type StripGrid } from '../dog/strip.ts'
import { measured, withheld, type Estimate } from '../estimate.ts'
import { median, quantile } from '../numeric/robust.ts'

/** When the weight came to rest on the plank and when the hand let go of it; s of real time. */
export interface WeightTimes {
  readonly placed: Estimate
  readonly released: Estimate
}

/** Half width of the weight's place along the plank, m; height looked at for the weight and for the hand, m. */
const HALF_WIDTH_M = 0.07
const WEIGHT_M: readonly [number, number] = [0.01, 0.1]
const HAND_M: readonly [number, number] = [0.09, 0.33]
const HAND_HALF_WIDTH_M = 0.16
/** A change must be this many times that of quiet frames, and at least this, mean sd. */
const STANDS_OUT = 4
const LEAST_CHANGE = 0.2
/** Changes below this are the codec's, mean sd. */
const FAINT_CHANGE = 0.09
/** A hand holds a weight that it has set down at least this long, s. */
const SHORTEST_HOLD_S = 0.1
/** How long before and after the holding is looked at, s. */
const AROUND_S = 0.5

/**
 * When a weight was set down and let go: the place of the weight stops changing when it rests on the board, and the
 * place above it starts changing when the hand leaves.
 *
 * @param film strips along the plank, moving with it
 * @param massAtM where the weight stands, m along
 * @param tipS when the board began to tip, s; null when it never did
 * @returns both times, withheld `not-seen` when no weight comes to stand there before the board tips
 */
export function findWeight(film: PlankFilm, massAtM: number, tipS: number | null): WeightTimes {
  const { ptsS, strips, grid } = film
  const unseen = withheld(
    'not-seen',
    'The weight was not seen being set on the plank: keep hand and weight in the picture and start filming before.',
  )
  const block = { fromM: massAtM - HALF_WIDTH_M, toM: massAtM + HALF_WIDTH_M, heights: WEIGHT_M }
  const hand = { fromM: massAtM - HAND_HALF_WIDTH_M, toM: massAtM + HAND_HALF_WIDTH_M, heights: HAND_M }
  const blockChange = changes(strips, grid, block)
  const handChange = changes(strips, grid, hand)
  const best = holdings(ptsS, blockChange, handChange)
    .filter((h) => tipS === null || ptsS[h.from]! < tipS)
    .reduce<Holding | null>((a, b) => (a === null || b.energy > a.energy ? b : a), null)
  if (best === null) return { placed: unseen, released: unseen }
  const edges = sharpEdges(best, blockChange, handChange)
  return {
    // The last bit of coming to rest is too small to be seen: it ended late between the frames.
    placed: changeAt(ptsS, edges.from - 1, 0.75),
    released: changeAt(ptsS, edges.to + 1, 0.5),
  }
}

/** A change first or last seen in a frame happened between it and the one before. */
function changeAt(ptsS: Float64Array, frame: number, share: number): Estimate {
  const before = ptsS[frame - 1]!
  const at = ptsS[frame]!
  return measured(before + share * (at - before), Math.hypot((at - before) / 2.5, 0.006))
}

/** The holding without the frames at its ends that change more than its inside does. */
function sharpEdges({ from, to, energy }: Holding, block: Float64Array, hand: Float64Array): Holding {
  const inside = (change: Float64Array) => 3 * median(change.slice(from, to + 1)) + FAINT_CHANGE
  const blockLimit = inside(block)
  const handLimit = inside(hand)
  const moves = (k: number) => block[k]! > blockLimit || hand[k]! > handLimit
  let first = from
  let last = to
  const middle = (from + to) >> 1
  for (let k = from; k < middle; k++) if (moves(k)) first = k + 1
  for (let k = to; k > middle; k--) if (moves(k)) last = k - 1
  return { from: first, to: last, energy }
}

/** A quiet stretch, weight and hand at rest: first and last quiet frame, and how much moved before and after. */
interface Holding {
  readonly from: number
  readonly to: number
  readonly energy: number
}

/** Quiet stretches before which something came to the weight's place and after which something left above it. */
function holdings(ptsS: Float64Array, block: Float64Array, hand: Float64Array): Holding[] {
  const limit = (change: Float64Array) =>
    Math.max(
      LEAST_CHANGE,
      STANDS_OUT *
        quantile(
          Array.from(change).filter((c) => !Number.isNaN(c)),
          0.2,
        ),
    )
  const blockLimit = limit(block)
  const handLimit = limit(hand)
  const quiet = (k: number) => !(block[k]! > blockLimit) && !(hand[k]! > handLimit)
  const out: Holding[] = []
  for (let k = 2; k < ptsS.length - 2; k++) {
    if (!quiet(k) || quiet(k - 1)) continue
    const from = k
    while (k + 1 < ptsS.length - 1 && quiet(k + 1)) k++
    if (ptsS[k]! - ptsS[from]! < SHORTEST_HOLD_S) continue
    const before = sumOver(ptsS, block, ptsS[from]! - AROUND_S, ptsS[from]!)
    const after = sumOver(ptsS, hand, ptsS[k]!, ptsS[k]! + AROUND_S)
    if (before > 4 * blockLimit && after > 4 * handLimit) out.push({ from, to: k, energy: Math.min(before, after) })
  }
  return out
}

function sumOver(ptsS: Float64Array, change: Float64Array, fromS: number, toS: number): number {
  let sum = 0
  for (let k = 0; k < ptsS.length; k++) if (ptsS[k]! > fromS && ptsS[k]! <= toS && change[k]! > 0) sum += change[k]!
  return sum
}

interface Window {
  readonly fromM: number
  readonly toM: number
  readonly heights: readonly [number, number]
}

/** How much a window changed since the frame before, mean difference in sd; NaN where unknown. */
function changes(strips: readonly (Strip | null)[], grid: StripGrid, window: Window): Float64Array {
  const own = cells(grid, window)
  return Float64Array.from(strips, (strip, k) => {
    const before = strips[k - 1]
    if (strip == null || before == null) return NaN
    let sum = 0
    let count = 0
    for (const i of own) {
      const a = strip.strangeness[i]!
      const b = before.strangeness[i]!
      if (a === UNKNOWN_CELL || b === UNKNOWN_CELL) continue
      sum += Math.abs(a - b)
      count++
    }
    return count === 0 ? NaN : sum / count / 10
  })
}

function cells(grid: StripGrid, { fromM, toM, heights }: Window): number[] {
  const column = (m: number) => Math.min(grid.columns - 1, Math.max(0, Math.round((m - grid.fromAlongM) / grid.cellM)))
  const row = (m: number) => Math.min(grid.rows - 1, Math.max(0, Math.round((m - grid.fromAboveM) / grid.cellM)))
  const out: number[] = []
  for (let r = row(heights[0]); r <= row(heights[1]); r++) {
    for (let c = column(fromM); c <= column(toM); c++) out.push(r * grid.columns + c)
  }
  return out
}

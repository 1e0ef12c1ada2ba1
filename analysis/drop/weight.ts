import type { PlankFilm } from '../dog/follow-dog.ts'
import { UNKNOWN_CELL, type Strip, type StripGrid } from '../dog/strip.ts'
import { measured, withheld, type Estimate } from '../estimate.ts'
import { median } from '../numeric/robust.ts'

/** When the weight came to rest on the plank and when the hand let go of it; s of real time. */
export interface WeightTimes {
  readonly placed: Estimate
  readonly released: Estimate
}

/** Half width of the weight's place along the plank, m; height looked at for the weight and for the hand, m. */
const HALF_WIDTH_M = 0.07
const WEIGHT_M: readonly [number, number] = [0.01, 0.05]
const HAND_M: readonly [number, number] = [0.09, 0.33]
const HAND_HALF_WIDTH_M = 0.16
/** The weight is there when its place is this strange, sd. */
const THERE = 1.8
/** A change stands out from the flicker of quiet frames by this factor. */
const STANDS_OUT = 3

/**
 * When a weight was set down and let go: the place of the weight stops changing when it rests on the board, and the
 * place above it starts changing when the hand leaves.
 *
 * @param film strips along the plank, moving with it
 * @param massAtM where the weight stands, m along; it is looked for within 25 cm
 * @param tipS when the board began to tip, s; null when it never did
 * @returns both times, withheld `not-seen` when no weight comes to stand there before the board tips
 */
export function findWeight(film: PlankFilm, massAtM: number, tipS: number | null): WeightTimes {
  const { ptsS, strips, grid } = film
  const unseen = withheld(
    'not-seen',
    'The weight was not seen being set on the plank: keep hand and weight in the picture and start filming before.',
  )
  const last = tipS === null ? ptsS.length - 1 : lastBefore(ptsS, tipS)
  const atM = weightPlace(film, massAtM, last)
  if (atM === null) return { placed: unseen, released: unseen }
  const block = { fromM: atM - HALF_WIDTH_M, toM: atM + HALF_WIDTH_M, heights: WEIGHT_M }
  const hand = { fromM: atM - HAND_HALF_WIDTH_M, toM: atM + HAND_HALF_WIDTH_M, heights: HAND_M }
  const there = strips.map((s) => (s === null ? NaN : meanOver(s, grid, block)))
  let came = last
  while (came > 0 && !(there[came - 1]! < THERE)) came--
  if (came === 0) return { placed: unseen, released: unseen }
  const blockChange = changes(strips, grid, block)
  const handChange = changes(strips, grid, hand)
  const quiet = (change: Float64Array) => Math.max(0.05, median(Array.from(change).filter((c) => !Number.isNaN(c))))
  const blockLimit = STANDS_OUT * quiet(blockChange)
  const handLimit = STANDS_OUT * quiet(handChange)
  // The weight moves from when it comes into its place to when it rests.
  let rest = came
  while (rest < last && blockChange[rest + 1]! > blockLimit) rest++
  const placedS = (ptsS[rest - 1]! + ptsS[rest]!) / 2
  const stepSd = (k: number) => Math.hypot((ptsS[k]! - ptsS[k - 1]!) / Math.sqrt(12), 0.004)
  const placed = measured(placedS, stepSd(rest))
  const until = Math.min(ptsS.length - 1, (tipS === null ? ptsS.length - 1 : last) + Math.round(0.5 / frameS(ptsS)))
  const runs = runsAbove(handChange, handLimit, rest + 1, until)
  const most = runs.reduce((m, r) => Math.max(m, r.energy), 0)
  const off = runs.find((r) => r.energy > 0.3 * most)
  const released =
    off === undefined
      ? withheld('not-seen', 'The hand was not seen leaving the weight: keep the hand above the plank in the picture.')
      : measured((ptsS[off.from - 1]! + ptsS[off.from]!) / 2, stepSd(off.from))
  return { placed, released }
}

interface Window {
  readonly fromM: number
  readonly toM: number
  readonly heights: readonly [number, number]
}

/** The place near the stated one at which something stands in the last frames before the tip; null where nothing does. */
function weightPlace({ strips, grid, ptsS }: PlankFilm, massAtM: number, last: number): number | null {
  let best = 0
  let bestM = massAtM
  const frames = strips.slice(Math.max(0, last - Math.round(0.15 / frameS(ptsS))), last + 1).filter((s) => s !== null)
  for (let shift = -0.25; shift <= 0.2501; shift += 0.02) {
    const window = { fromM: massAtM + shift - 0.04, toM: massAtM + shift + 0.04, heights: WEIGHT_M }
    const strange = median(frames.map((s) => meanOver(s, grid, window)))
    const score = strange - 4 * Math.abs(shift)
    if (score > best) {
      best = score
      bestM = massAtM + shift
    }
  }
  return best > THERE ? bestM : null
}

function meanOver(strip: Strip, grid: StripGrid, window: Window): number {
  let sum = 0
  let count = 0
  for (const i of cells(grid, window)) {
    const v = strip.strangeness[i]!
    if (v === UNKNOWN_CELL) continue
    sum += Math.min(v, 100)
    count++
  }
  return count === 0 ? NaN : sum / count / 10
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

function runsAbove(change: Float64Array, limit: number, from: number, to: number): { from: number; energy: number }[] {
  const runs: { from: number; energy: number }[] = []
  for (let k = from; k <= to; k++) {
    if (!(change[k]! > limit)) continue
    const start = k
    let energy = 0
    while (k <= to && change[k]! > limit) energy += change[k++]!
    runs.push({ from: start, energy })
  }
  return runs
}

function lastBefore(ptsS: Float64Array, timeS: number): number {
  let last = 0
  while (last + 1 < ptsS.length && ptsS[last + 1]! < timeS) last++
  return last
}

function frameS(ptsS: Float64Array): number {
  return (ptsS[ptsS.length - 1]! - ptsS[0]!) / Math.max(1, ptsS.length - 1)
}

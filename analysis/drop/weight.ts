import type { PlankFilm } from '../dog/plank-film.ts'
import { UNKNOWN_CELL, type Strip } from '../dog/strip.ts'
import type { StripGrid } from '../dog/strip-grid.ts'
import { withheld, type Estimate, type Measured } from '../estimate.ts'
import { median, quantile } from '../numeric/robust.ts'
import { HeldLook } from './held-look.ts'
import { leavesRest, type Distance, type Leaving, type Way } from './rest-edge.ts'

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
/** Further away than this, or than this share of the furthest that it seems to go, nothing more is learnt, m. */
const FAR_M = 0.015
const FAR_SHARE = 0.7
/** From rest to there, or from there to rest, it takes no longer than this, s. */
const WAY_S = 0.5
/**
 * A hand that lays something down slows to nothing, as all reaching hands do (Flash and Hogan, J. Neurosci. 5, 1985); less
 * often the board stops it. Codecs finish a picture late.
 */
const PLACED: Leaving = { gentle: 3 / 4, slackM: 0, unfinished: 6 }
/** A hand that draws back starts slowly or is pulled off; it opens before it moves, and is off within 2 mm. */
const RELEASED: Leaving = { gentle: 1 / 2, slackM: 0.002, unfinished: 0 }
/**
 * A pole fills little of the window: a tenth of its cells look other once it has gone, by 2 sd and more (in tenths), a
 * hand with its sleeve changes a fifth of them and more (drawn clips). One that begins to slide along itself hardly changes
 * the picture, and codecs leave such changes out until they are large: it leaves up to so long before it is seen to, s (30
 * and 67 ms in two drawn clips at 60 frames a second).
 */
const THIN = { share: 1 / 6, changedBy: 20, lateS: 0.07 } as const
/** What has left is gone from where it was after this, s (ours). */
const GONE_S = 0.2
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
    .filter((h) => tipS === null || ptsS[h.first.from]! < tipS)
    .reduce<Holding | null>((a, b) => (a === null || b.energy > a.energy ? b : a), null)
  if (best === null) return { placed: unseen, released: unseen }
  const frameS = median(ptsS.slice(1).map((timeS, k) => timeS - ptsS[k]!))
  const coming = wayFrom(film, block, best.first, -1)
  const leaving = wayFrom(film, hand, best.last, 1)
  if (coming === null || leaving === null) return { placed: unseen, released: unseen }
  const { value, sd, ci95 } = leavesRest(coming, frameS, PLACED)
  const left = leavesRest(leaving, frameS, RELEASED)
  return {
    placed: { kind: 'measured', value: -value, sd, ci95: [-ci95[1], -ci95[0]] },
    released: isThin(film, hand, best.last) ? seenLate(left) : left,
  }
}

/**
 * The way from the middle of a quiet run on, or with -1 back from it with times turned round; null when the window's
 * picture does not tell or nothing goes far.
 */
function wayFrom({ ptsS, strips, grid }: PlankFilm, window: Window, { from, to }: Run, direction: 1 | -1): Way | null {
  const held = strips.slice(from, to + 1).flatMap((strip) => (strip === null ? [] : [strip]))
  if (held.length === 0) return null
  const look = new HeldLook(held, grid, cells(grid, window))
  const lastS = ptsS[direction === 1 ? to : from]!
  const distances: Distance[] = []
  for (let k = (from + to) >> 1; k >= 0 && k < ptsS.length && direction * (ptsS[k]! - lastS) < WAY_S; k += direction) {
    const strip = strips[k]
    const distanceM = strip == null ? NaN : look.distanceM(strip)
    if (Number.isFinite(distanceM)) distances.push({ timeS: direction * ptsS[k]!, distanceM })
  }
  const furthestM = distances.reduce((most, { distanceM }) => Math.max(most, distanceM), 0)
  const seenM = Math.min(FAR_M, FAR_SHARE * furthestM)
  const far = distances.findIndex(({ distanceM }) => distanceM > seenM)
  const near = distances.slice(0, far + 1).filter(({ timeS }) => timeS > distances[far]!.timeS - WAY_S)
  return near.length < 3 ? null : { distances: near, noiseM: look.noiseM(held), seenM }
}

/** Whether what leaves a window after a quiet run fills little of it: a pole. */
function isThin({ ptsS, strips, grid }: PlankFilm, window: Window, { from, to }: Run): boolean {
  const leftS = ptsS[to]!
  const held = strips.slice(from, to + 1)
  const gone = strips.filter((_, k) => ptsS[k]! > leftS + GONE_S && ptsS[k]! < leftS + WAY_S)
  const own = cells(grid, window)
  const changed = own.filter((cell) => Math.abs(middle(gone, cell) - middle(held, cell)) > THIN.changedBy)
  return changed.length < THIN.share * own.length
}

/** The middle of what a cell shows, tenths of an sd; NaN where nothing is known of it. */
function middle(strips: readonly (Strip | null)[], cell: number): number {
  return median(strips.map((strip) => strip?.deviation[cell] ?? UNKNOWN_CELL).filter((value) => value !== UNKNOWN_CELL))
}

function seenLate({ value, sd, ci95: [early, late] }: Measured): Measured {
  const spreadS = THIN.lateS / Math.sqrt(12)
  return {
    kind: 'measured',
    value: value - THIN.lateS / 2,
    sd: Math.hypot(sd, spreadS),
    ci95: [early - THIN.lateS, late],
  }
}

/** First and last frame of a run in which nothing changes. */
interface Run {
  readonly from: number
  readonly to: number
}

/**
 * Weight and hand at rest. A codec may draw a still picture anew meanwhile, so its first run tells how the weight looks
 * when it has come, the last one how the hand looks before it leaves.
 */
interface Holding {
  readonly first: Run
  readonly last: Run
  /** How much moved before and after. */
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
  const runs: Run[] = []
  for (let k = 2; k < ptsS.length - 2; k++) {
    if (!quiet(k) || quiet(k - 1)) continue
    const from = k
    while (k + 1 < ptsS.length - 1 && quiet(k + 1)) k++
    runs.push({ from, to: k })
  }
  const out: Holding[] = []
  for (let n = 0; n < runs.length; n++) {
    const first = runs[n]!
    while (n + 1 < runs.length && isRedrawn(runs[n]!, runs[n + 1]!)) n++
    const last = runs[n]!
    const [fromS, toS] = [ptsS[first.from]!, ptsS[last.to]!]
    if (toS - fromS < SHORTEST_HOLD_S) continue
    const before = sumOver(ptsS, block, fromS - AROUND_S, fromS)
    const after = sumOver(ptsS, hand, toS, toS + AROUND_S)
    if (before > 4 * blockLimit && after > 4 * handLimit) out.push({ first, last, energy: Math.min(before, after) })
  }
  return out
}

/** A single change between quiet frames is the codec's: hands do not move for one frame only. */
function isRedrawn(before: Run, after: Run): boolean {
  return after.from === before.to + 2 && before.to - before.from >= 2 && after.to - after.from >= 2
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
      const a = strip.deviation[i]!
      const b = before.deviation[i]!
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

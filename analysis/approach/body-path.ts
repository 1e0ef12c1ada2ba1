import { UNKNOWN_CELL } from '../dog/strip.ts'
import type { DogLikeness } from '../silhouette/dog-likeness.ts'
import { oddsOf, PLACE_COLUMNS } from '../silhouette/placed-look.ts'
import { type PlaneGrid, UPRIGHT_CELL_M } from './approach-grids.ts'
import type { ApproachLook } from './approach-watch.ts'

/** Where the body's centre appears in the upright plane through the plank's middle line, one element a look. */
export interface BodyPath {
  readonly ptsS: Float64Array
  /** Level distance from the entry end, negative before it, m. */
  readonly aheadM: Float64Array
  /** How much better than nothing at all the dog explains what is seen there, 0-1 of what it could. */
  readonly shown: Float64Array
  /** How much of what a dog shows there lies where something is known: in the picture, and not behind the plank, 0-1. */
  readonly inSight: Float64Array
}

/** How likely the dog and something else are at a place that is looked at, before anything is seen. */
const SHARES = { dog: 0.3, other: 0.1 }
/** A dog is in each place about its body at most and at least in this share of frames; where it hardly ever is tells nothing. */
const SHAPE = { most: 0.93, least: 0.03, trust: 0.9, telling: 0.04 }
/** The body's centre is looked for between these places, m. */
const SEARCHED_M = { from: -1.7, to: 0.2 }
/** A dog goes ahead no faster than this, and hardly goes back, m/s. */
const FASTEST_MPS = 9
const BACK_MPS = 1
/** Neighbouring cells say the same: the logarithm of odds of a whole dog counts only so much. */
const SAID_SHARE = 0.05

/**
 * Follows the dog's body on its way to the plank: in each look the place at which its shape and colours, learnt on the
 * plank, fit best, the whole way being one that a dog can go (Viterbi's algorithm, IEEE Trans. Inf. Theory 13, 1967).
 *
 * @param looks in order of time
 * @param grid upright
 * @param dog what it looks like
 * @returns the way; null where there are no looks
 */
export function bodyPath(looks: readonly ApproachLook[], grid: PlaneGrid, dog: DogLikeness): BodyPath | null {
  if (looks.length === 0) return null
  const template = templateOf(dog, grid.rowM.length)
  const first = Math.round((SEARCHED_M.from - grid.aheadM[0]!) / UPRIGHT_CELL_M)
  const count = Math.round((SEARCHED_M.to - SEARCHED_M.from) / UPRIGHT_CELL_M)
  const fits = looks.map((look) => fitsOf(look, grid, dog, template, first, count))
  const ptsS = Float64Array.from(looks, ({ ptsS }) => ptsS)
  const way = bestWay(fits, ptsS)
  const aheadM = Float64Array.from(way, (at, k) => {
    const fit = fits[k]!
    const [before, here, after] = [fit[at - 1] ?? fit[at]!, fit[at]!, fit[at + 1] ?? fit[at]!]
    const bend = before - 2 * here + after
    const between = bend < 0 ? Math.max(-0.5, Math.min(0.5, (0.5 * (before - after)) / bend)) : 0
    // A template's middle lies between two of its columns.
    return grid.aheadM[0]! + (first + at + between) * UPRIGHT_CELL_M - UPRIGHT_CELL_M / 2
  })
  return {
    ptsS,
    aheadM,
    shown: Float64Array.from(way, (at, k) => fits[k]![at]! / template.most),
    inSight: Float64Array.from(way, (at, k) => inSight(looks[k]!, grid, template, first + at)),
  }
}

interface Template {
  /** The places about the body that tell of it: columns and rows. */
  readonly column: Int16Array
  readonly row: Int16Array
  /** What such a place adds to the logarithm of odds if it surely shows the dog, and what it takes away if it shows nothing. */
  readonly gain: Float32Array
  readonly loss: Float32Array
  /** What a dog adds that is seen just as expected. */
  readonly most: number
}

function templateOf({ shape }: DogLikeness, rows: number): Template {
  const places = Array.from({ length: rows * PLACE_COLUMNS }, (_, i) => i)
  const telling = places.filter((i) => shape[i]! > SHAPE.telling)
  const logit = (share: number) => Math.log(share / (1 - share))
  const shares = telling.map((i) => Math.min(SHAPE.most, SHAPE.trust * shape[i]! + SHAPE.least))
  const gain = Float32Array.from(shares, (share) => logit(share) - logit(SHAPE.least))
  const loss = Float32Array.from(shares, (share) => Math.log((1 - share) / (1 - SHAPE.least)))
  return {
    column: Int16Array.from(telling, (i) => i % PLACE_COLUMNS),
    row: Int16Array.from(telling, (i) => Math.floor(i / PLACE_COLUMNS)),
    gain,
    loss,
    most: shares.reduce((sum, share, k) => sum + share * gain[k]! + loss[k]!, 0),
  }
}

/** The logarithm of odds for the body's centre at each place looked at. */
function fitsOf(
  { upright, colours }: ApproachLook,
  { places: { columns } }: PlaneGrid,
  { colourOdds }: DogLikeness,
  { column, row, gain, loss }: Template,
  first: number,
  count: number,
): Float64Array {
  const shown = new Float32Array(upright.length)
  for (let i = 0; i < upright.length; i++) {
    const tenths = upright[i]!
    if (tenths === UNKNOWN_CELL) {
      shown[i] = -1
      continue
    }
    const odds = oddsOf(tenths)
    const asDog = odds * SHARES.dog * colourOdds[colours[i]!]!
    shown[i] = asDog / (asDog + odds * SHARES.other + 1 - SHARES.dog - SHARES.other)
  }
  const out = new Float64Array(count)
  for (let at = 0; at < count; at++) {
    const shift = first + at - PLACE_COLUMNS / 2
    let sum = 0
    for (let i = 0; i < gain.length; i++) {
      const there = column[i]! + shift
      if (there < 0 || there >= columns) continue
      const share = shown[row[i]! * columns + there]!
      if (share >= 0) sum += share * gain[i]! + loss[i]!
    }
    out[at] = sum
  }
  return out
}

/** The share of a template's gain that lies on known places, its centre at a column. */
function inSight(
  { upright }: ApproachLook,
  { places: { columns } }: PlaneGrid,
  template: Template,
  at: number,
): number {
  const { column, row, gain } = template
  let [known, all] = [0, 0]
  for (let i = 0; i < gain.length; i++) {
    const there = column[i]! + at - PLACE_COLUMNS / 2
    all += gain[i]!
    if (there < 0 || there >= columns) continue
    if (upright[row[i]! * columns + there] !== UNKNOWN_CELL) known += gain[i]!
  }
  return known / all
}

/** The way through all looks that fits best. */
function bestWay(fits: readonly Float64Array[], ptsS: Float64Array): Int32Array {
  const count = fits[0]!.length
  const came: Int32Array[] = []
  let score = fits[0]!.map((fit) => SAID_SHARE * fit)
  for (let k = 1; k < fits.length; k++) {
    const sinceS = ptsS[k]! - ptsS[k - 1]!
    const ahead = Math.ceil((FASTEST_MPS * sinceS) / UPRIGHT_CELL_M)
    const back = Math.ceil((BACK_MPS * sinceS) / UPRIGHT_CELL_M)
    const from = new Int32Array(count)
    const next = new Float64Array(count)
    for (let at = 0; at < count; at++) {
      let best = at
      for (let before = Math.max(0, at - ahead); before <= Math.min(count - 1, at + back); before++) {
        if (score[before]! > score[best]!) best = before
      }
      from[at] = best
      next[at] = score[best]! + SAID_SHARE * fits[k]![at]!
    }
    came.push(from)
    score = next
  }
  const way = new Int32Array(fits.length)
  let at = score.indexOf(Math.max(...score))
  for (let k = fits.length - 1; k >= 0; k--) {
    way[k] = at
    if (k > 0) at = came[k - 1]![at]!
  }
  return way
}

import type { PlankFilm } from './plank-film.ts'
import { UNKNOWN_CELL, type Strip } from './strip.ts'
import type { StripGrid } from './strip-grid.ts'

/** Columns of a paw picture, `PITCH_M` apart, from `FROM_ALONG_M` on: half a metre before the plank to beyond the longest. */
export const COLUMNS = 240
export const PITCH_M = 0.02
export const FROM_ALONG_M = -0.5
/** Steps of a paw picture are this far apart whatever the clip's rate, s. */
export const STEP_S = 1 / 60

/**
 * What the paw network sees of a stretch: along the plank against time, in the same steps for every clip, how strange
 * the picture is at several heights about the plank.
 */
export interface PawPicture {
  /** Time of the first step, s; steps are `STEP_S` apart. */
  readonly fromS: number
  readonly steps: number
  /** `steps` x `COLUMNS` x `CHANNELS`, 0-255. */
  readonly values: Uint8Array
}

/** Bands about the plank: from bottom edge, side face, top face, then heights over the visible top face, m. */
const OVER_M = [0.004, 0.014, 0.03, 0.06, 0.1, 0.16, 0.25, 0.4] as const
const BANDS = 5 + OVER_M.length - 1
/** Bands, how much is unknown, on the plank or not, visible height of the top face, size of a cell. */
export const CHANNELS = BANDS + 4

/**
 * Sums the strips of a stretch up for the paw network.
 *
 * @param film strips and outlines, one a frame
 * @returns 0 in every band where the plank was not followed; the channel for the unknown says so
 */
export function pawPicture(film: PlankFilm): PawPicture {
  const { ptsS, strips, lengthM } = film
  const frames = ptsS.length
  const fromS = ptsS[0]!
  const steps = Math.max(1, Math.round((ptsS[frames - 1]! - fromS) / STEP_S) + 1)
  const perFrame = strips.map((strip, k) => {
    const outline = film.outlines[k]
    return strip === null || outline == null
      ? null
      : bandsOf(strip, film.grid, lengthM, outline.farTopM, outline.bottomM)
  })
  const values = new Uint8Array(steps * COLUMNS * CHANNELS)
  const sum = new Float32Array(COLUMNS * CHANNELS)
  for (let step = 0; step < steps; step++) {
    const weight = gather(perFrame, ptsS, fromS + step * STEP_S, sum)
    const at = step * COLUMNS * CHANNELS
    for (let i = 0; i < sum.length; i++) values[at + i] = weight > 0 ? Math.round(sum[i]! / weight) : 0
    if (weight > 0) continue
    for (let column = 0; column < COLUMNS; column++) values[at + column * CHANNELS + BANDS] = 255
  }
  return { fromS, steps, values }
}

/** Sum of the frames near a time, each the heavier the nearer; returns the sum of the weights. */
function gather(
  perFrame: readonly (Float32Array | null)[],
  ptsS: Float64Array,
  atS: number,
  sum: Float32Array,
): number {
  sum.fill(0)
  let after = lowerBound(ptsS, atS)
  if (after === ptsS.length) after--
  const before = Math.max(0, after - 1)
  const reachS = Math.max(STEP_S, ptsS[after]! - ptsS[before]!)
  let total = 0
  for (let k = lowerBound(ptsS, atS - reachS); k < ptsS.length && ptsS[k]! <= atS + reachS; k++) {
    const frame = perFrame[k]
    const weight = 1 - Math.abs(ptsS[k]! - atS) / reachS
    if (frame == null || weight <= 0) continue
    total += weight
    for (let i = 0; i < sum.length; i++) sum[i]! += weight * frame[i]!
  }
  return total
}

/** Index of the first element not below `value`. */
function lowerBound(sorted: Float64Array, value: number): number {
  let low = 0
  let high = sorted.length
  while (low < high) {
    const middle = (low + high) >> 1
    if (sorted[middle]! < value) low = middle + 1
    else high = middle
  }
  return low
}

function bandsOf(
  strip: Strip,
  grid: StripGrid,
  lengthM: number,
  farTopM: readonly [number, number],
  bottomM: readonly [number, number],
): Float32Array {
  const out = new Float32Array(COLUMNS * CHANNELS)
  const { cellM, fromAboveM, fromAlongM } = grid
  const edges = new Float64Array(2 * BANDS)
  for (let column = 0; column < COLUMNS; column++) {
    const leftM = FROM_ALONG_M + column * PITCH_M
    const alongM = leftM + PITCH_M / 2
    const share = alongM / lengthM
    const topM = Math.max(0, farTopM[0] + share * (farTopM[1] - farTopM[0]))
    bandEdges(topM, bottomM[0] + share * (bottomM[1] - bottomM[0]), edges)
    const first = Math.max(0, Math.ceil((leftM - fromAlongM) / cellM - 0.5))
    const last = Math.min(grid.columns - 1, Math.ceil((leftM + PITCH_M - fromAlongM) / cellM - 0.5) - 1)
    const at = column * CHANNELS
    let unknown = 0
    for (let band = 0; band < BANDS; band++) {
      const low = Math.max(0, Math.ceil((edges[2 * band]! - fromAboveM) / cellM - 0.5))
      const high = Math.min(grid.rows - 1, Math.floor((edges[2 * band + 1]! - fromAboveM) / cellM + 0.5))
      const mean = meanDeviation(strip, grid, first, last, low, high)
      if (Number.isNaN(mean)) unknown++
      else out[at + band] = (255 * mean) / (mean + HALF_BRIGHT_SD)
    }
    out[at + BANDS] = (255 * unknown) / BANDS
    out[at + BANDS + 1] = alongM > 0 && alongM < lengthM ? 255 : 0
    out[at + BANDS + 2] = Math.min(255, (255 * topM) / FULL_TOP_M)
    out[at + BANDS + 3] = Math.min(255, (255 * cellM) / FULL_CELL_M)
  }
  return out
}

/** A deviation of so many sds is half bright; the far edge so much higher and a cell so large are full, m (the network was taught with these). */
const HALF_BRIGHT_SD = 3
const FULL_TOP_M = 0.15
const FULL_CELL_M = 0.02

/** Lowest and highest row centre of each band, m above the near edge. */
function bandEdges(topM: number, bottomM: number, edges: Float64Array): void {
  const bands = [
    [bottomM - 0.1, bottomM - 0.055],
    [bottomM - 0.05, bottomM - 0.012],
    [bottomM + 0.005, -0.005],
    [0.15 * topM, 0.5 * topM],
    [0.5 * topM, 0.95 * topM],
  ]
  bands.forEach(([low, high], band) => {
    edges[2 * band] = low!
    edges[2 * band + 1] = high!
  })
  for (let i = 0; i + 1 < OVER_M.length; i++) {
    edges[2 * (5 + i)] = topM + OVER_M[i]!
    edges[2 * (5 + i) + 1] = topM + OVER_M[i + 1]!
  }
}

/** Mean deviation of a block of cells, sd, each at most 10; NaN where none is known. */
function meanDeviation(strip: Strip, grid: StripGrid, c0: number, c1: number, r0: number, r1: number): number {
  let sum = 0
  let count = 0
  for (let row = r0; row <= r1; row++) {
    for (let c = c0; c <= c1; c++) {
      const v = strip.deviation[row * grid.columns + c]!
      if (v === UNKNOWN_CELL) continue
      sum += v > 100 ? 100 : v
      count++
    }
  }
  return count === 0 ? NaN : sum / count / 10
}

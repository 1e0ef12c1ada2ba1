import type { Random } from './random.ts'

/** How long to sample. */
export interface SamplerLength {
  /** Sweeps over all walkers that are thrown away first. */
  readonly settle: number
  /** Sweeps that are kept in part. */
  readonly keep: number
  /** Every how many sweeps the walkers' places are taken down. */
  readonly every: number
}

/** Goodman and Weare's recommended largest stretch. */
const STRETCH = 2

/**
 * Draws from a distribution by walkers that stretch towards and away from one another (Goodman and Weare, "Ensemble
 * samplers with affine invariance", Comm. App. Math. Comp. Sci. 5, 2010). It needs no step sizes: long, thin
 * distributions are sampled as well as round ones.
 *
 * @param logDensity logarithm of the density up to a constant; -Infinity where it is impossible
 * @param walkers where the walkers start, an even number of them, more than twice as many as dimensions; all possible,
 *   not all in one plane
 * @param length how long to sample
 * @param random the source of chance
 * @returns draws, each as long as a walker's place
 */
export function ensembleSample(
  logDensity: (at: Float64Array) => number,
  walkers: readonly Float64Array[],
  length: SamplerLength,
  random: Random,
): Float64Array[] {
  const places = walkers.map((walker) => walker.slice())
  const logs = places.map(logDensity)
  const dimensions = places[0]!.length
  const half = places.length >> 1
  const kept: Float64Array[] = []
  for (let sweep = 0; sweep < length.settle + length.keep; sweep++) {
    for (let k = 0; k < places.length; k++) {
      const other = places[(k < half ? half : 0) + Math.floor(random.uniform() * half)]!
      const stretch = ((STRETCH - 1) * random.uniform() + 1) ** 2 / STRETCH
      const from = places[k]!
      const to = from.map((value, d) => other[d]! + stretch * (value - other[d]!))
      const log = logDensity(to)
      if (Math.log(1 - random.uniform()) < (dimensions - 1) * Math.log(stretch) + log - logs[k]!) {
        places[k] = to
        logs[k] = log
      }
    }
    if (sweep >= length.settle && (sweep - length.settle) % length.every === 0)
      kept.push(...places.map((p) => p.slice()))
  }
  return kept
}

import { measured, type Measured } from '../estimate.ts'
import { normalCdf, normalQuantile } from './normal.ts'
import { type Random, seededRandom } from './random.ts'

/** Quantiles are looked for within so many sds of each part, by halving so often, to this share. */
const REACH_SDS = 8
const HALVINGS = 60
const EXACT_SHARE = 1e-12
/** A 95 % interval lies between these shares. */
const INTERVAL = [0.025, 0.975] as const

/** One normal distribution of a mixture; the weights of a mixture add up to 1. */
export interface NormalPart {
  readonly weight: number
  readonly mean: number
  readonly sd: number
}

/**
 * Probability that a number from a mixture of normal distributions lies below x.
 *
 * @param parts the mixture
 * @param x in the unit of the parts
 * @returns 0 to 1
 * @example mixtureCdf([{ weight: 1, mean: 2, sd: 1 }], 2) // 0.5
 */
export function mixtureCdf(parts: readonly NormalPart[], x: number): number {
  return parts.reduce(
    (sum, { weight, mean, sd }) => sum + weight * (sd > 0 ? normalCdf((x - mean) / sd) : mean < x ? 1 : 0),
    0,
  )
}

/**
 * The x below which a number from a mixture lies with the given probability, by halving.
 *
 * @param parts the mixture, at least one
 * @param probability between 0 and 1, both excluded
 * @returns in the unit of the parts
 * @example mixtureQuantile([{ weight: 0.5, mean: 0, sd: 1 }, { weight: 0.5, mean: 0, sd: 1 }], 0.975) // 1.959964
 */
export function mixtureQuantile(parts: readonly NormalPart[], probability: number): number {
  const z = normalQuantile(probability)
  let lo = Math.min(...parts.map(({ mean, sd }) => mean + Math.min(z, 0) * sd - REACH_SDS * sd))
  let hi = Math.max(...parts.map(({ mean, sd }) => mean + Math.max(z, 0) * sd + REACH_SDS * sd))
  for (let round = 0; round < HALVINGS && hi - lo > EXACT_SHARE * (Math.abs(lo) + Math.abs(hi)); round++) {
    const middle = (lo + hi) / 2
    if (mixtureCdf(parts, middle) < probability) lo = middle
    else hi = middle
  }
  return (lo + hi) / 2
}

/**
 * A mixture as a measured value: its mean, standard deviation and 95 % interval.
 *
 * @param parts the mixture, at least one
 * @returns in the unit of the parts
 */
export function mixtureEstimate(parts: readonly NormalPart[]): Measured {
  const mean = parts.reduce((sum, part) => sum + part.weight * part.mean, 0)
  const variance = parts.reduce((sum, part) => sum + part.weight * (part.sd ** 2 + (part.mean - mean) ** 2), 0)
  const estimate = measured(mean, Math.sqrt(variance))
  return { ...estimate, ci95: [mixtureQuantile(parts, INTERVAL[0]), mixtureQuantile(parts, INTERVAL[1])] }
}

const DIFFERENCE_DRAWS = 20_000

/**
 * How much more the second of two numbers is that are known apart from each other.
 *
 * @param one a mixture, at least one part
 * @param other a mixture in the same unit
 * @returns other - one: mean and standard deviation exact, the 95 % interval by drawing from both
 * @example mixtureDifference([{ weight: 1, mean: 2, sd: 0.3 }], [{ weight: 1, mean: 3, sd: 0.4 }]).sd // 0.5
 */
export function mixtureDifference(one: readonly NormalPart[], other: readonly NormalPart[]): Measured {
  const [a, b] = [mixtureEstimate(one), mixtureEstimate(other)]
  const random = seededRandom(DIFFERENCE_DRAWS)
  const draws = Float64Array.from({ length: DIFFERENCE_DRAWS }, () => drawn(other, random) - drawn(one, random)).sort()
  const quantile = (share: number) => draws[Math.round(share * (DIFFERENCE_DRAWS - 1))]!
  return {
    ...measured(b.value - a.value, Math.hypot(a.sd, b.sd)),
    ci95: [quantile(INTERVAL[0]), quantile(INTERVAL[1])],
  }
}

function drawn(parts: readonly NormalPart[], random: Random): number {
  let left = random.uniform()
  let chosen = parts[0]!
  for (const part of parts) {
    chosen = part
    left -= part.weight
    if (left < 0) break
  }
  return chosen.mean + chosen.sd * random.normal()
}

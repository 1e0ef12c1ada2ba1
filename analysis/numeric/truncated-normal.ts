import { normalCdf, normalQuantile } from './normal.ts'
import type { Random } from './random.ts'

/**
 * A normal number that is known to lie in a range, by inverting the distribution function.
 *
 * @param random where chance comes from
 * @param mean of the normal distribution before the range is known
 * @param sd of it, > 0
 * @param lo lower end of the range, may be -Infinity
 * @param hi upper end of the range, may be Infinity
 * @returns between lo and hi
 */
export function truncatedNormalDraw(random: Random, mean: number, sd: number, lo: number, hi: number): number {
  const from = (lo - mean) / sd
  const to = (hi - mean) / sd
  // In the upper tail probabilities are told apart better from the other side.
  if (from > 0) return mean - sd * draw(random, -to, -from)
  return mean + sd * draw(random, from, to)
}

function draw(random: Random, from: number, to: number): number {
  const below = normalCdf(from)
  const x = normalQuantile(below + (1 - random.uniform()) * (normalCdf(to) - below))
  return Math.min(Math.max(x, from), to)
}

/** The standard normal distribution. */

/**
 * Probability that a standard normal number lies below x.
 *
 * Series near the middle, continued fraction in the tails (Abramowitz and Stegun, 26.2.10 and 26.2.14).
 *
 * @example normalCdf(1.959964) // 0.975
 */
export function normalCdf(x: number): number {
  const size = Math.abs(x)
  const density = normalDensity(size)
  if (size < 3) {
    let term = size
    let sum = size
    for (let k = 3; term > 1e-17 * sum; k += 2) {
      term *= (size * size) / k
      sum += term
    }
    return x < 0 ? 0.5 - density * sum : 0.5 + density * sum
  }
  let fraction = size
  for (let k = 80; k >= 1; k--) fraction = size + k / fraction
  const tail = density / fraction
  return x < 0 ? tail : 1 - tail
}

/** Density of the standard normal distribution at x: `normalDensity(0)` is 0.3989. */
export function normalDensity(x: number): number {
  return Math.exp(-0.5 * x * x) / Math.sqrt(2 * Math.PI)
}

/**
 * The x below which a standard normal number lies with the given probability, by Newton's method on `normalCdf`.
 *
 * @param probability between 0 and 1, both excluded (they give -Infinity and Infinity)
 * @example normalQuantile(0.975) // 1.959964
 */
export function normalQuantile(probability: number): number {
  if (probability <= 0) return -Infinity
  if (probability >= 1) return Infinity
  if (probability > 0.5) return -normalQuantile(1 - probability)
  // Start from the left tail's leading term; Newton on log(cdf) converges from there without overshoot.
  let x = probability > 0.3 ? 0 : -Math.sqrt(-2 * Math.log(probability))
  for (let round = 0; round < 60; round++) {
    const below = normalCdf(x)
    const step = (Math.log(below / probability) * below) / normalDensity(x)
    x -= step
    if (Math.abs(step) < 1e-14 * (1 + Math.abs(x))) break
  }
  return x
}

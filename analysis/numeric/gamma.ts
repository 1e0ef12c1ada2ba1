import type { Random } from './random.ts'

/**
 * Natural logarithm of the gamma function, by Stirling's series after shifting the argument above 8.
 *
 * @param x greater than 0
 * @returns ln gamma(x), to about 12 digits
 * @example logGamma(5) // 3.17805383, which is ln 24
 */
export function logGamma(x: number): number {
  let shift = 0
  let z = x
  while (z < 8) {
    shift += Math.log(z)
    z += 1
  }
  const square = 1 / (z * z)
  const series = (1 / 12 - square * (1 / 360 - square * (1 / 1260 - square * (1 / 1680 - square / 1188)))) / z
  return (z - 0.5) * Math.log(z) - z + 0.5 * Math.log(2 * Math.PI) + series - shift
}

/**
 * A number from the gamma distribution of a `shape` and scale 1 (Marsaglia and Tsang, ACM TOMS 2000, 26:363).
 *
 * @param random where chance comes from
 * @param shape greater than 0
 * @returns greater than 0; mean and variance are `shape`
 */
export function gammaDraw(random: Random, shape: number): number {
  if (shape < 1) return gammaDraw(random, shape + 1) * (1 - random.uniform()) ** (1 / shape)
  const d = shape - 1 / 3
  const c = 1 / Math.sqrt(9 * d)
  for (;;) {
    const x = random.normal()
    const v = (1 + c * x) ** 3
    if (v > 0 && Math.log(1 - random.uniform()) < 0.5 * x * x + d - d * v + d * Math.log(v)) return d * v
  }
}

/**
 * A number from the beta distribution.
 *
 * @param random where chance comes from
 * @param a greater than 0, for one outcome
 * @param b greater than 0, for the other
 * @returns 0 to 1; its mean is a / (a + b)
 */
export function betaDraw(random: Random, a: number, b: number): number {
  const x = gammaDraw(random, a)
  return x / (x + gammaDraw(random, b))
}

/** Statistics that a few wild values cannot spoil. */

/** Half the width that holds half of a normal distribution, in sd: turns a median deviation into an sd. */
const MEDIAN_DEVIATION_OF_NORMAL = 0.6744897501960817

/**
 * A quantile with linear interpolation between order statistics (the seventh type of Hyndman and Fan, 1996).
 *
 * @param values any order, any unit; not changed
 * @param share 0 to 1
 * @returns NaN for no values
 * @example quantile([1, 2, 3, 4], 0.5) // 2.5
 */
export function quantile(values: ArrayLike<number>, share: number): number {
  const sorted = new Float64Array(values).sort()
  if (sorted.length === 0) return NaN
  const place = Math.min(Math.max(share, 0), 1) * (sorted.length - 1)
  const below = Math.floor(place)
  const low = sorted[below]!
  const high = sorted[Math.min(below + 1, sorted.length - 1)]!
  return low + (place - below) * (high - low)
}

/**
 * The middle value.
 *
 * @returns NaN for no values
 * @example median([3, 1, 2]) // 2
 */
export function median(values: ArrayLike<number>): number {
  return quantile(values, 0.5)
}

/**
 * Spread from the median distance to the median, scaled so that it is the sd for normal values.
 *
 * @returns in the unit of the values; NaN for no values
 * @example robustSd([1, 2, 3, 4, 100]) // 1.4826
 */
export function robustSd(values: ArrayLike<number>): number {
  const middle = median(values)
  return median(Array.from(values, (value) => Math.abs(value - middle))) / MEDIAN_DEVIATION_OF_NORMAL
}

/**
 * Huber's weight for iteratively reweighted least squares: 1 for small residuals, falling as 1 / size beyond the knee.
 *
 * @param residual in sd
 * @param knee in sd; 1.345 keeps 95 % efficiency for normal noise (Huber, Robust Statistics, 1981)
 * @returns 0 to 1
 * @example huberWeight(2.69) // 0.5
 */
export function huberWeight(residual: number, knee = 1.345): number {
  const size = Math.abs(residual)
  return size <= knee ? 1 : knee / size
}

/**
 * Tukey's biweight for iteratively reweighted least squares: residuals beyond the reach do not count at all.
 *
 * @param residual in sd
 * @param reach in sd; 4.685 keeps 95 % efficiency for normal noise (Beaton and Tukey, 1974)
 * @returns 0 to 1
 * @example tukeyWeight(5) // 0
 */
export function tukeyWeight(residual: number, reach = 4.685): number {
  const share = residual / reach
  return Math.abs(share) >= 1 ? 0 : (1 - share * share) ** 2
}

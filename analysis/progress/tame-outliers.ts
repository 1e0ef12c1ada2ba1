import { huberWeight, median, robustSd } from '../numeric/robust.ts'
import { choleskyFactor, solveWithFactor } from '../numeric/matrix.ts'

/** Rides further from the fit than this, in sd, count as if they were this far. */
const KNEE = 2.5

/**
 * Pulls in wild rides so that they cannot bend a fit: Huber's pseudo-values, on which ordinary least squares gives
 * Huber's estimate with its proper standard error (Huber, Robust Statistics, 1981, chapter 7).
 *
 * @param y what was measured; @param ySd its sd; @param rows a row of the model for each
 * @returns y with the wild ones pulled in; y itself where none is wild
 */
export function tameOutliers(
  y: readonly number[],
  ySd: readonly number[],
  rows: readonly ArrayLike<number>[],
): number[] {
  const p = rows[0]?.length ?? 0
  let weights: readonly number[] = y.map(() => 1)
  let fitted: readonly number[] = y.map(() => median(y))
  let scales: readonly number[] = y.map(() => 1)
  for (let round = 0; round < 12; round++) {
    const coefficients = weightedFit(y, weights, rows, p)
    if (coefficients === null) return [...y]
    fitted = rows.map((row) => coefficients.reduce((sum, c, k) => sum + c * row[k]!, 0))
    const rest = y.map((value, i) => value - fitted[i]!)
    // Residuals are smaller than errors by what the fit took up.
    const size = robustSd(rest) * Math.sqrt(y.length / Math.max(1, y.length - p))
    const typicalSd = median(ySd)
    const own = Math.sqrt(Math.max(size * size - typicalSd * typicalSd, 0.04 * size * size))
    scales = ySd.map((sd) => Math.max(Math.hypot(own, sd), 1e-9))
    weights = rest.map((r, i) => huberWeight(r / scales[i]!, KNEE))
  }
  const within = weights.filter((weight) => weight === 1).length / y.length
  if (within === 1 || within < 0.5) return [...y]
  return y.map((value, i) => fitted[i]! + ((value - fitted[i]!) * weights[i]!) / within)
}

function weightedFit(y: readonly number[], weights: readonly number[], rows: readonly ArrayLike<number>[], p: number) {
  const precision = new Float64Array(p * p)
  const right = new Float64Array(p)
  for (let i = 0; i < y.length; i++) {
    for (let a = 0; a < p; a++) {
      right[a]! += weights[i]! * rows[i]![a]! * y[i]!
      for (let b = 0; b < p; b++) precision[a * p + b]! += weights[i]! * rows[i]![a]! * rows[i]![b]!
    }
  }
  for (let a = 0; a < p; a++) precision[a * p + a]! += 1e-9
  const factor = choleskyFactor(precision, p)
  return factor === null ? null : solveWithFactor(factor, right, p)
}

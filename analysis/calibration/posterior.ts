import { choleskyFactor, solveTransposed } from '../numeric/matrix.ts'
import type { LeastSquaresFit } from '../numeric/least-squares.ts'
import { seededRandom } from '../numeric/random.ts'

/**
 * Draws from the normal distribution that touches the posterior at the fit (Laplace's approximation), without the
 * impossible ones.
 *
 * @param fit of residuals in units of their sd, priors included
 * @param isPossible whether a draw may stand
 * @param count how many draws
 * @param seed the same seed gives the same draws
 * @returns `count` parameter vectors; the fit itself fills in if the possible region is hardly ever hit
 */
export function posteriorDraws(
  fit: LeastSquaresFit,
  count: number,
  seed: number,
  isPossible: (parameters: Float64Array) => boolean,
): Float64Array[] {
  const n = fit.parameters.length
  const factor = choleskyFactor(fit.information, n)
  if (factor === null) throw new Error('posteriorDraws: the fit leaves a parameter undetermined; give it a prior')
  const random = seededRandom(seed)
  const draws: Float64Array[] = []
  for (let tries = 0; draws.length < count && tries < 50 * count; tries++) {
    const normals = Float64Array.from({ length: n }, () => random.normal())
    const step = solveTransposed(factor, normals, n)
    const draw = fit.parameters.map((value, index) => value + step[index]!)
    if (isPossible(draw)) draws.push(draw)
  }
  while (draws.length < count) draws.push(fit.parameters)
  return draws
}

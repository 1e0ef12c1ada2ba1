import { expect, test } from 'vitest'
import { ensembleSample } from '../../../analysis/numeric/ensemble-sampler.ts'
import { seededRandom } from '../../../analysis/numeric/random.ts'

test('draws have the mean and the covariance of a normal distribution that is a hundred times longer than wide', () => {
  // x normal with sd 100 about 7, y - 2 x normal with sd 1: closed form of mean and covariance.
  const log = (at: Float64Array) => -(((at[0]! - 7) / 100) ** 2) / 2 - (at[1]! - 2 * at[0]!) ** 2 / 2
  const random = seededRandom(5)
  const walkers = Array.from({ length: 20 }, () => Float64Array.of(random.normal(), random.normal()))
  const draws = ensembleSample(log, walkers, { settle: 400, keep: 4000, every: 4 }, random)
  const mean = (of: (at: Float64Array) => number) => draws.reduce((sum, at) => sum + of(at), 0) / draws.length
  const middle = mean((at) => at[0]!)
  expect(Math.abs(middle - 7)).toBeLessThan(8)
  expect(Math.sqrt(mean((at) => (at[0]! - middle) ** 2)) / 100).toBeCloseTo(1, 1)
  expect(Math.sqrt(mean((at) => (at[1]! - 2 * at[0]!) ** 2))).toBeCloseTo(1, 1)
})

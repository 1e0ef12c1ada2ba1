import { expect, test } from 'vitest'
import { seededRandom } from '../../../analysis/numeric/random.ts'

const COUNT = 20_000

function moments(values: readonly number[]): { mean: number; sd: number; lagged: number } {
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length
  const variance = values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / values.length
  const pairs = values.slice(1).reduce((sum, value, k) => sum + (value - mean) * (values[k]! - mean), 0)
  return { mean, sd: Math.sqrt(variance), lagged: pairs / values.length / variance }
}

test('the same seed gives the same numbers, another seed others', () => {
  const draw = (seed: number): number[] => Array.from({ length: 5 }, seededRandom(seed).uniform)
  expect(draw(3)).toEqual(draw(3))
  expect(draw(3)).not.toEqual(draw(4))
})

test.each([1, 2, -7])('uniform numbers of seed %i fill [0, 1) evenly and independently', (seed) => {
  const values = Array.from({ length: COUNT }, seededRandom(seed).uniform)
  const { mean, sd, lagged } = moments(values)
  // Bounds are five standard errors of the closed forms 1/2, 1/sqrt(12) and 0.
  expect(Math.abs(mean - 0.5)).toBeLessThan(5 * Math.sqrt(1 / 12 / COUNT))
  expect(Math.abs(sd - Math.sqrt(1 / 12))).toBeLessThan(5 * Math.sqrt(1 / 12 / (5 * COUNT)))
  expect(Math.abs(lagged)).toBeLessThan(5 / Math.sqrt(COUNT))
  expect(values.every((value) => value >= 0 && value < 1)).toBe(true)
})

test.each([1, 2, -7])('normal numbers of seed %i have mean 0, sd 1 and 95 %% within 1.96', (seed) => {
  const values = Array.from({ length: COUNT }, seededRandom(seed).normal)
  const { mean, sd, lagged } = moments(values)
  const within = values.filter((value) => Math.abs(value) < 1.959964).length / COUNT
  expect(Math.abs(mean)).toBeLessThan(5 / Math.sqrt(COUNT))
  expect(Math.abs(sd - 1)).toBeLessThan(5 / Math.sqrt(2 * COUNT))
  expect(Math.abs(lagged)).toBeLessThan(5 / Math.sqrt(COUNT))
  expect(Math.abs(within - 0.95)).toBeLessThan(5 * Math.sqrt((0.95 * 0.05) / COUNT))
})

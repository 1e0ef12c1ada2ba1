import { expect, test } from 'vitest'
import { seededRandom } from '../../../analysis/numeric/random.ts'
import { huberWeight, median, quantile, robustSd, tukeyWeight } from '../../../analysis/numeric/robust.ts'

test('the median of an even number of values lies half way between the middle two', () => {
  expect(median([4, 1, 3, 2])).toBe(2.5)
  expect(median([3, 1, 2])).toBe(2)
})

test('quantiles interpolate between order statistics', () => {
  // R: quantile(c(10, 20, 30, 40, 50), c(0.1, 0.25, 0.9)) gives 14, 20, 46 (its default, type 7; from memory).
  const values = [50, 20, 10, 40, 30]
  expect(quantile(values, 0.1)).toBeCloseTo(14, 12)
  expect(quantile(values, 0.25)).toBe(20)
  expect(quantile(values, 0.9)).toBeCloseTo(46, 12)
  expect(values).toEqual([50, 20, 10, 40, 30])
})

test('nothing has no quantile', () => {
  expect(quantile([], 0.5)).toBeNaN()
})

test('the robust spread is the sd of normal values, and one wild value in five hardly moves it', () => {
  const random = seededRandom(1)
  const clean = Array.from({ length: 5000 }, () => 3 + 2 * random.normal())
  expect(robustSd(clean)).toBeCloseTo(2, 1)
  expect(robustSd([1, 2, 3, 4, 100])).toBeCloseTo(1.4826, 4)
})

test('weights fall beyond the knee and end at the reach', () => {
  expect(huberWeight(1)).toBe(1)
  expect(huberWeight(-2.69)).toBeCloseTo(0.5, 12)
  expect(tukeyWeight(0)).toBe(1)
  expect(tukeyWeight(4.685 / 2)).toBeCloseTo(0.5625, 12)
  expect(tukeyWeight(-5)).toBe(0)
})

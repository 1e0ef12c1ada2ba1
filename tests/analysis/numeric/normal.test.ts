import { expect, test } from 'vitest'
import { normalCdf, normalDensity, normalQuantile } from '../../../analysis/numeric/normal.ts'

// Source: the tables of Abramowitz and Stegun, Handbook of Mathematical Functions, 26.1 (cdf) and 26.5 (quantiles).
test.each([
  [0, 0.5],
  [1, 0.841344746068543],
  [1.959963984540054, 0.975],
  [-2.575829303548901, 0.005],
  [3, 0.99865010196837],
  [-5, 2.866515719e-7],
])('the normal distribution at %f is %f', (x, probability) => {
  expect(normalCdf(x) / probability).toBeCloseTo(1, 9)
  expect(normalQuantile(probability)).toBeCloseTo(x, 8)
})

test('quantile undoes cdf from one far tail to the other', () => {
  for (let x = -7.5; x <= 5; x += 0.5) expect(normalQuantile(normalCdf(x))).toBeCloseTo(x, 6)
})

test('the density is the slope of the cdf', () => {
  for (const x of [-2, 0.3, 2.9, 3.1]) {
    expect((normalCdf(x + 1e-5) - normalCdf(x - 1e-5)) / 2e-5).toBeCloseTo(normalDensity(x), 8)
  }
})

test('certainty lies at infinity', () => {
  expect(normalQuantile(0)).toBe(-Infinity)
  expect(normalQuantile(1)).toBe(Infinity)
})

import { expect, test } from 'vitest'
import { leastSquares } from '../../../analysis/numeric/least-squares.ts'
import { invertSymmetric } from '../../../analysis/numeric/matrix.ts'

/**
 * Misra1a, dental research, monomolecular adsorption: y = b1 (1 - exp(-b2 x)).
 * Source: NIST Statistical Reference Datasets, nonlinear regression, Misra1a (data, starts and certified values).
 */
const MISRA1A = {
  y: [10.07, 14.73, 17.94, 23.93, 29.61, 35.18, 40.02, 44.82, 50.76, 55.05, 61.01, 66.4, 75.47, 81.78],
  x: [77.6, 114.9, 141.1, 190.8, 239.9, 289, 332.8, 378.4, 434.8, 477.3, 536.8, 593.1, 689.1, 760],
  parameters: [2.3894212918e2, 5.5015643181e-4],
  sds: [2.7070075241, 7.2668688436e-6],
  sumOfSquares: 1.2455138894e-1,
}

const misra1a = {
  residualCount: MISRA1A.x.length,
  residuals: ([b1, b2]: Float64Array, into: Float64Array) =>
    MISRA1A.x.forEach((x, k) => (into[k] = b1! * (1 - Math.exp(-b2! * x)) - MISRA1A.y[k]!)),
}

test.each([[[500, 1e-4]], [[250, 5e-4]]])('reaches the certified values of NIST Misra1a from %j', (start) => {
  const fit = leastSquares(misra1a, start)
  expect(fit.converged).toBe(true)
  expect(fit.parameters[0]! / MISRA1A.parameters[0]!).toBeCloseTo(1, 8)
  expect(fit.parameters[1]! / MISRA1A.parameters[1]!).toBeCloseTo(1, 8)
  expect(fit.sumOfSquares / MISRA1A.sumOfSquares).toBeCloseTo(1, 9)
})

test('its information matrix gives the certified standard deviations of NIST Misra1a', () => {
  const { information, sumOfSquares } = leastSquares(misra1a, [250, 5e-4])
  const covariance = invertSymmetric(information, 2)!
  const variance = sumOfSquares / (MISRA1A.x.length - 2)
  expect(Math.sqrt(covariance[0]! * variance) / MISRA1A.sds[0]!).toBeCloseTo(1, 6)
  expect(Math.sqrt(covariance[3]! * variance) / MISRA1A.sds[1]!).toBeCloseTo(1, 6)
})

test('a straight line through exact points is found exactly', () => {
  const fit = leastSquares(
    { residualCount: 2, residuals: ([b]: Float64Array, into: Float64Array) => into.set([b! - 2, 2 * b! - 4]) },
    [1],
  )
  expect(fit.parameters[0]).toBeCloseTo(2, 12)
  expect(fit.sumOfSquares).toBeCloseTo(0, 20)
})

test('a step to where the residuals do not exist is not taken', () => {
  const fit = leastSquares(
    {
      residualCount: 1,
      residuals: ([x]: Float64Array, into: Float64Array) => (into[0] = Math.log(x!) - Math.log(0.01)),
    },
    [5],
  )
  expect(fit.parameters[0]).toBeCloseTo(0.01, 9)
})

test('a start without residuals is a bug of the caller, said aloud', () => {
  const problem = { residualCount: 1, residuals: (_: Float64Array, into: Float64Array) => (into[0] = NaN) }
  expect(() => leastSquares(problem, [1])).toThrow(/start/)
})

import { expect, test } from 'vitest'
import {
  choleskyFactor,
  invertSymmetric,
  solveLinear,
  solveTransposed,
  solveWithFactor,
} from '../../../analysis/numeric/matrix.ts'
import { seededRandom } from '../../../analysis/numeric/random.ts'

test('the Cholesky factor of [[4, 2], [2, 5]] is [[2, 0], [1, 2]]', () => {
  expect([...choleskyFactor(Float64Array.of(4, 2, 2, 5), 2)!]).toEqual([2, 0, 1, 2])
})

test('a matrix that is not positive definite has no Cholesky factor and no inverse here', () => {
  const indefinite = Float64Array.of(1, 2, 2, 1)
  expect(choleskyFactor(indefinite, 2)).toBeNull()
  expect(invertSymmetric(indefinite, 2)).toBeNull()
})

test('the inverse of a diagonal holds the reciprocals', () => {
  const inverse = invertSymmetric(Float64Array.of(2, 0, 0, 4), 2)!
  for (const [k, wanted] of [0.5, 0, 0, 0.25].entries()) expect(inverse[k]).toBeCloseTo(wanted, 15)
})

test('two ways of solving a symmetric system agree', () => {
  const random = seededRandom(5)
  const n = 6
  const root = Float64Array.from({ length: n * n }, () => random.normal())
  const matrix = new Float64Array(n * n)
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) for (let k = 0; k < n; k++) matrix[i * n + j]! += root[i * n + k]! * root[j * n + k]!
  }
  const right = Float64Array.from({ length: n }, () => random.normal())
  const byFactor = solveWithFactor(choleskyFactor(matrix, n)!, right, n)
  const byElimination = solveLinear(matrix, right, n)!
  byFactor.forEach((value, k) => expect(value).toBeCloseTo(byElimination[k]!, 8))
})

test('elimination exchanges rows when the first element is 0', () => {
  expect([...solveLinear(Float64Array.of(0, 2, 1, 0), Float64Array.of(4, 3), 2)!]).toEqual([3, 2])
})

test('a singular system has no solution', () => {
  expect(solveLinear(Float64Array.of(1, 2, 2, 4), Float64Array.of(1, 1), 2)).toBeNull()
})

test('the transposed triangle is solved from the last row up', () => {
  // Fᵀ = [[2, 1], [0, 2]]: x2 = 2, x1 = (5 - 2) / 2.
  expect([...solveTransposed(Float64Array.of(2, 0, 1, 2), Float64Array.of(5, 4), 2)]).toEqual([1.5, 2])
})

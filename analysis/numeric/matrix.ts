/** Small dense linear algebra. Matrices are row-major `Float64Array`s whose size travels beside them. */

/**
 * Cholesky factor of a symmetric positive definite matrix.
 *
 * @param matrix n x n, row by row; only the lower triangle is read
 * @returns the lower triangle F with F Fᵀ = matrix (zeros above), or `null` when the matrix is not positive definite
 * @example choleskyFactor(Float64Array.of(4, 2, 2, 5), 2) // [2, 0, 1, 2]
 */
export function choleskyFactor(matrix: Float64Array, n: number): Float64Array | null {
  const factor = new Float64Array(n * n)
  for (let row = 0; row < n; row++) {
    for (let column = 0; column <= row; column++) {
      let sum = matrix[row * n + column]!
      for (let k = 0; k < column; k++) sum -= factor[row * n + k]! * factor[column * n + k]!
      if (row !== column) factor[row * n + column] = sum / factor[column * n + column]!
      else if (sum > 0) factor[row * n + row] = Math.sqrt(sum)
      else return null
    }
  }
  return factor
}

/**
 * Solves F Fᵀ x = right for a Cholesky factor F.
 *
 * @param factor n x n, as `choleskyFactor` gives it
 * @returns x, a new array of n numbers
 */
export function solveWithFactor(factor: Float64Array, right: Float64Array, n: number): Float64Array {
  const x = new Float64Array(n)
  for (let row = 0; row < n; row++) {
    let sum = right[row]!
    for (let k = 0; k < row; k++) sum -= factor[row * n + k]! * x[k]!
    x[row] = sum / factor[row * n + row]!
  }
  return solveTransposed(factor, x, n)
}

/**
 * Solves Fᵀ x = right for a lower triangle F. With F from an information matrix and normal numbers on the right,
 * x is a draw from the normal distribution with that information.
 *
 * @param factor n x n, as `choleskyFactor` gives it
 * @returns x, a new array of n numbers
 */
export function solveTransposed(factor: Float64Array, right: Float64Array, n: number): Float64Array {
  const x = new Float64Array(n)
  for (let row = n - 1; row >= 0; row--) {
    let sum = right[row]!
    for (let k = row + 1; k < n; k++) sum -= factor[k * n + row]! * x[k]!
    x[row] = sum / factor[row * n + row]!
  }
  return x
}

/**
 * Inverse of a symmetric positive definite matrix.
 *
 * @param matrix n x n, row by row
 * @returns the inverse, or `null` when the matrix is not positive definite
 * @example invertSymmetric(Float64Array.of(2, 0, 0, 4), 2) // [0.5, 0, 0, 0.25]
 */
export function invertSymmetric(matrix: Float64Array, n: number): Float64Array | null {
  const factor = choleskyFactor(matrix, n)
  if (factor === null) return null
  const inverse = new Float64Array(n * n)
  const unit = new Float64Array(n)
  for (let column = 0; column < n; column++) {
    unit.fill(0)
    unit[column] = 1
    const solved = solveWithFactor(factor, unit, n)
    for (let row = 0; row < n; row++) inverse[row * n + column] = solved[row]!
  }
  return inverse
}

/**
 * Solves a general square system by Gaussian elimination with row exchanges.
 *
 * @param matrix n x n, row by row; not changed
 * @returns x with matrix x = right, or `null` when the matrix is singular
 * @example solveLinear(Float64Array.of(0, 2, 1, 0), Float64Array.of(4, 3), 2) // [3, 2]
 */
export function solveLinear(matrix: Float64Array, right: Float64Array, n: number): Float64Array | null {
  const a = matrix.slice()
  const x = right.slice()
  for (let column = 0; column < n; column++) {
    let pivot = column
    for (let row = column + 1; row < n; row++) {
      if (Math.abs(a[row * n + column]!) > Math.abs(a[pivot * n + column]!)) pivot = row
    }
    const lead = a[pivot * n + column]!
    if (!(Math.abs(lead) > 0)) return null
    if (pivot !== column) {
      for (let k = 0; k < n; k++) {
        const kept = a[column * n + k]!
        a[column * n + k] = a[pivot * n + k]!
        a[pivot * n + k] = kept
      }
      const kept = x[column]!
      x[column] = x[pivot]!
      x[pivot] = kept
    }
    for (let row = column + 1; row < n; row++) {
      const share = a[row * n + column]! / lead
      if (share === 0) continue
      for (let k = column; k < n; k++) a[row * n + k]! -= share * a[column * n + k]!
      x[row]! -= share * x[column]!
    }
  }
  for (let row = n - 1; row >= 0; row--) {
    let sum = x[row]!
    for (let k = row + 1; k < n; k++) sum -= a[row * n + k]! * x[k]!
    x[row] = sum / a[row * n + row]!
  }
  return x.every(Number.isFinite) ? x : null
}

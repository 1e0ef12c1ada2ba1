import { choleskyFactor, solveWithFactor } from './matrix.ts'

/** Damping after a step that did not help, after one that did, and where no step can be solved (Marquardt, 1963; sizes ours). */
const DAMPING = { unsolved: 10, worse: 6, betterBy: 8, least: 1e-14 } as const

/** A sum of squares to make small. Residuals are in units of their own sd when the result is to carry uncertainty. */
export interface LeastSquaresProblem {
  readonly residualCount: number
  /** Writes all residuals at `parameters`; writes NaN anywhere when the parameters are impossible. */
  residuals(parameters: Float64Array, into: Float64Array): void
  /** Size of a change in each parameter that matters; sets the step of the numeric derivative. Default |start|, or 1. */
  readonly typical?: ArrayLike<number>
}

export interface LeastSquaresFit {
  readonly parameters: Float64Array
  /** Sum of squared residuals at `parameters`. */
  readonly sumOfSquares: number
  readonly residuals: Float64Array
  /** JᵀJ at `parameters`, n x n: the inverse is the parameters' covariance when the residuals have sd 1. */
  readonly information: Float64Array
  readonly iterations: number
  /** False when the step limit came first. */
  readonly converged: boolean
}

/** Step of a central difference, relative to the parameter's size: the cube root of the rounding error. */
const DIFFERENCE_STEP = Math.cbrt(Number.EPSILON)

/**
 * Nonlinear least squares by Levenberg and Marquardt's method with central-difference derivatives.
 *
 * The damping follows Marquardt's diagonal scaling (J. SIAM 11, 1963), so the units of the parameters do not matter.
 *
 * @param problem how many residuals there are and how they follow from the parameters
 * @param start one number a parameter, any unit
 * @param options `maxIterations`; `tolerance`: the step, relative to the parameter
 *   or its typical change, that no longer matters
 * @returns the place where no step helps any more; look at `converged`
 * @example fitting y = b x to (1, 2), (2, 4) from b = 1 gives b = 2
 */
export function leastSquares(
  problem: LeastSquaresProblem,
  start: ArrayLike<number>,
  options: { maxIterations?: number; tolerance?: number } = {},
): LeastSquaresFit {
  const { maxIterations = 100, tolerance = 1e-8 } = options
  const n = start.length
  const m = problem.residualCount
  const typical = problem.typical ?? Array.from(start, (value) => Math.abs(value) || 1)
  let parameters = Float64Array.from(start)
  let residuals = new Float64Array(m)
  problem.residuals(parameters, residuals)
  let sumOfSquares = squaredLength(residuals)
  if (!Number.isFinite(sumOfSquares)) throw new Error('leastSquares: the residuals at the start are not finite numbers')

  let damping = 1e-3
  let iterations = 0
  let converged = false
  let { information, gradient } = normalEquations(problem, parameters, typical)
  while (!converged && iterations < maxIterations) {
    iterations++
    const step = dampedStep(information, gradient, damping, n)
    if (step === null) {
      damping *= DAMPING.unsolved
      continue
    }
    const tried = parameters.map((value, index) => value - step[index]!)
    const triedResiduals = new Float64Array(m)
    problem.residuals(tried, triedResiduals)
    const triedSum = squaredLength(triedResiduals)
    // A step that no longer matters ends the search, whether it still gains or rounding decides.
    converged = step.every((change, k) => Math.abs(change) <= tolerance * Math.max(Math.abs(tried[k]!), typical[k]!))
    if (triedSum < sumOfSquares) {
      parameters = tried
      residuals = triedResiduals
      sumOfSquares = triedSum
      damping = Math.max(damping / DAMPING.betterBy, DAMPING.least)
      ;({ information, gradient } = normalEquations(problem, parameters, typical))
    } else {
      damping *= DAMPING.worse
    }
  }
  return { parameters, sumOfSquares, residuals, information, iterations, converged }
}

function squaredLength(values: Float64Array): number {
  let sum = 0
  for (const value of values) sum += value * value
  return sum
}

function dampedStep(
  information: Float64Array,
  gradient: Float64Array,
  damping: number,
  n: number,
): Float64Array | null {
  const damped = information.slice()
  for (let k = 0; k < n; k++) damped[k * n + k]! += damping * (information[k * n + k]! || 1e-12)
  const factor = choleskyFactor(damped, n)
  return factor === null ? null : solveWithFactor(factor, gradient, n)
}

function normalEquations(
  problem: LeastSquaresProblem,
  parameters: Float64Array,
  typical: ArrayLike<number>,
): { information: Float64Array; gradient: Float64Array } {
  const n = parameters.length
  const m = problem.residualCount
  const residuals = new Float64Array(m)
  problem.residuals(parameters, residuals)
  const columns: Float64Array[] = []
  const ahead = new Float64Array(m)
  const behind = new Float64Array(m)
  const moved = parameters.slice()
  for (let k = 0; k < n; k++) {
    const value = parameters[k]!
    const step = DIFFERENCE_STEP * Math.max(Math.abs(value), typical[k]!)
    moved[k] = value + step
    problem.residuals(moved, ahead)
    moved[k] = value - step
    problem.residuals(moved, behind)
    moved[k] = value
    columns.push(ahead.map((residual, index) => (residual - behind[index]!) / (2 * step)))
  }
  const information = new Float64Array(n * n)
  const gradient = new Float64Array(n)
  for (let row = 0; row < n; row++) {
    const left = columns[row]!
    for (let column = 0; column <= row; column++) {
      const right = columns[column]!
      let sum = 0
      for (let k = 0; k < m; k++) sum += left[k]! * right[k]!
      information[row * n + column] = sum
      information[column * n + row] = sum
    }
    let sum = 0
    for (let k = 0; k < m; k++) sum += left[k]! * residuals[k]!
    gradient[row] = sum
  }
  return { information, gradient }
}

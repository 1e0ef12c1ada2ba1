import { Z95, type Measured } from '../estimate.ts'

/**
 * A measured value from the probability that it lies at or below each point of a grid.
 *
 * @param grid rising, any unit: s for the time of an event, m for a height
 * @param passed probability of lying at or below each grid point, never falling; scaled so that it runs from 0 to 1
 *   over the grid
 * @param floorSd what no fit can beat, 1 sd, same unit; widens the result
 * @returns mean, sd and the 2.5 % and 97.5 % points
 * @example valueFromPassed([0, 1, 2], [0, 0.5, 1], 0) // evenly anywhere from 0 to 2: value 1, sd 0.577
 */
export function valueFromPassed(grid: ArrayLike<number>, passed: ArrayLike<number>, floorSd: number): Measured {
  const last = grid.length - 1
  const from = passed[0]!
  const whole = passed[last]! - from
  let mean = 0
  let square = 0
  for (let i = 0; i < last; i++) {
    const share = (passed[i + 1]! - passed[i]!) / whole
    const [a, b] = [grid[i]!, grid[i + 1]!]
    mean += (share * (a + b)) / 2
    square += (share * (a * a + a * b + b * b)) / 3
  }
  const pointAt = (share: number): number => {
    const wanted = from + share * whole
    let i = 0
    while (i < last - 1 && passed[i + 1]! < wanted) i++
    const [a, b] = [passed[i]!, passed[i + 1]!]
    const part = b > a ? (wanted - a) / (b - a) : 0.5
    return grid[i]! + Math.min(Math.max(part, 0), 1) * (grid[i + 1]! - grid[i]!)
  }
  const sd = Math.hypot(Math.sqrt(Math.max(square - mean * mean, 0)), floorSd)
  const below = Math.hypot(mean - Math.min(pointAt(0.025), mean), Z95 * floorSd)
  const above = Math.hypot(Math.max(pointAt(0.975), mean) - mean, Z95 * floorSd)
  return { kind: 'measured', value: mean, sd, ci95: [mean - below, mean + above] }
}

/**
 * Running sum of weights, for `valueFromPassed`.
 *
 * @param weights one for each cell of a grid, any scale, >= 0
 * @returns one element more than `weights`: 0 first, the whole last, divided by the whole
 */
export function passedFromWeights(weights: ArrayLike<number>): Float64Array {
  const passed = new Float64Array(weights.length + 1)
  for (let i = 0; i < weights.length; i++) passed[i + 1] = passed[i]! + weights[i]!
  const whole = passed[weights.length]!
  return passed.map((sum) => sum / whole)
}

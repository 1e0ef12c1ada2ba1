import type { Measured } from '../estimate.ts'

/** Draws inside an interval. */
const INSIDE = 0.95
/** An interval that ends this near a wall, as a share of its width, reaches down to it. */
const NEAR_WALL = 0.05

/**
 * What many equally likely values tell of one: their middle, and the shortest interval that holds 95 % of them.
 *
 * @param values any order, any unit, at least one
 * @param floor the least the value can be, if there is such a wall: draws that crowd at it reach down to it
 * @returns in the unit of the values
 */
export function fromDraws(values: readonly number[], floor = -Infinity): Measured {
  const sorted = Float64Array.from(values).sort()
  const n = sorted.length
  const inside = Math.max(1, Math.ceil(INSIDE * n))
  let first = 0
  for (let k = 0; k + inside <= n; k++) {
    if (sorted[k + inside - 1]! - sorted[k]! < sorted[first + inside - 1]! - sorted[first]!) first = k
  }
  const mean = sorted.reduce((sum, value) => sum + value, 0) / n
  const sd = Math.sqrt(sorted.reduce((sum, value) => sum + (value - mean) ** 2, 0) / Math.max(1, n - 1))
  const low = sorted[first]!
  const high = sorted[first + inside - 1]!
  // Few draws lie right at a wall even when nothing speaks against it.
  const atWall = low - floor < NEAR_WALL * (high - low)
  const value = n % 2 === 1 ? sorted[n >> 1]! : (sorted[(n >> 1) - 1]! + sorted[n >> 1]!) / 2
  return { kind: 'measured', value, sd, ci95: [atWall ? floor : low, high] }
}

/**
 * The share of draws for which something holds.
 *
 * @param draws any
 * @param holds what is asked
 * @returns 0 to 1; NaN without draws
 * @example shareOf([1, 2, 3, 4], (n) => n > 1) // 0.75
 */
export function shareOf<T>(draws: readonly T[], holds: (draw: T) => boolean): number {
  return draws.filter(holds).length / draws.length
}

import type { Random } from '../numeric/random.ts'

/** A search for one step in a season whose scatter is known up to its size: everything is divided by the scatter. */
export interface WhitenedSeason {
  readonly y: Float64Array
  /** Columns that a season without a step has, each as long as y. */
  readonly plain: readonly Float64Array[]
  /** Where a step may be: for each place a column, 0 before and 1 from there on. */
  readonly steps: readonly Float64Array[]
}

/** A season divided by its scatter, ready to be searched: steps with all that the plain columns explain taken out. */
export interface StepSearch {
  readonly basis: readonly Float64Array[]
  readonly steps: readonly (Float64Array | null)[]
  readonly freedom: number
}

/** What a step at each place explains, as squares; `rest` is what is left without a step. */
export interface StepsFound {
  readonly gains: readonly number[]
  readonly rest: number
}

/**
 * Prepares a search.
 *
 * @param season divided by its scatter
 * @returns the search; a step that the plain columns (the boards) explain by themselves is null
 */
export function prepareSearch(season: WhitenedSeason): StepSearch {
  const basis: Float64Array[] = []
  for (const column of season.plain) {
    const rest = without(column, basis)
    if (squares(rest) > 1e-9 * squares(column)) basis.push(unit(rest))
  }
  const steps = season.steps.map((step) => {
    const rest = without(step, basis)
    return squares(rest) > 0.02 * squares(step) ? unit(rest) : null
  })
  return { basis, steps, freedom: season.y.length - basis.length - 1 }
}

/**
 * Looks for a step.
 *
 * @param search as prepared
 * @param y the rides, divided by the scatter
 * @returns what each step explains, and what there is to explain
 */
export function findSteps(search: StepSearch, y: Float64Array): StepsFound {
  const rest = without(y, search.basis)
  return { rest: squares(rest), gains: search.steps.map((step) => (step === null ? 0 : dot(step, rest) ** 2)) }
}

/**
 * Probability that a season without a step shows one as clear as this somewhere: simulated, because the best of many
 * places is better than any one of them.
 *
 * @param search as prepared
 * @param found in the real season
 * @param random where chance comes from
 * @returns 0 to 1, at least 1 in 4001
 */
export function chanceOfStep(search: StepSearch, found: StepsFound, random: Random): number {
  const n = search.basis[0]?.length ?? 0
  const size = (steps: StepsFound) => {
    const best = Math.max(0, ...steps.gains)
    return best / Math.max(1e-12, steps.rest - best)
  }
  const real = size(found)
  const noise = new Float64Array(n)
  let asClear = 0
  let trials = 0
  for (const upTo of [200, 1000, 4000]) {
    for (; trials < upTo; trials++) {
      for (let i = 0; i < n; i++) noise[i] = random.normal()
      if (size(findSteps(search, noise)) >= real) asClear++
    }
    if (asClear >= 20) break
  }
  return (asClear + 1) / (trials + 1)
}

function without(column: Float64Array, basis: readonly Float64Array[]): Float64Array {
  const rest = column.slice()
  for (const direction of basis) {
    const share = dot(direction, rest)
    for (let i = 0; i < rest.length; i++) rest[i]! -= share * direction[i]!
  }
  return rest
}

function unit(column: Float64Array): Float64Array {
  const length = Math.sqrt(squares(column))
  return column.map((value) => value / length)
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!
  return sum
}

function squares(a: Float64Array): number {
  return dot(a, a)
}

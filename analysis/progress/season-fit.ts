import { choleskyFactor, solveTransposed, solveWithFactor } from '../numeric/matrix.ts'
import type { NormalPart } from '../numeric/mixture.ts'
import type { Random } from '../numeric/random.ts'

/**
 * A linear model of a season's rides: y = X b + what the day did + what the ride did + error of measurement.
 * Rides of one day share the day's part, so ten rides of one evening count for little more than a few.
 */
export interface SeasonModel {
  /** What was measured, a ride each; any unit. */
  readonly y: ArrayLike<number>
  /** Standard deviation of each measurement, in the unit of y. */
  readonly ySd: ArrayLike<number>
  /** A row of `columnCount` numbers for each ride. */
  readonly rows: readonly ArrayLike<number>[]
  readonly columnCount: number
  /** The day of each ride, counted from 0. */
  readonly dayIndex: ArrayLike<number>
  /** Standard deviation about 0 that is expected of each coefficient beforehand; absent or Infinity: nothing is. */
  readonly priorSd?: readonly number[]
}

/** What the coefficients are for one size of the scatter. */
export interface SeasonPart {
  readonly weight: number
  readonly mean: Float64Array
  /** Cholesky factor of the coefficients' precision, columnCount x columnCount. */
  readonly factor: Float64Array
  /** Scatter from ride to ride and from day to day, in the unit of y. */
  readonly rideSd: number
  readonly daySd: number
}

export interface SeasonFit {
  readonly columnCount: number
  /** Weights add up to 1. */
  readonly parts: readonly SeasonPart[]
  /** Natural logarithm of the probability of y, for comparing models that differ in `priorSd` only. */
  readonly logEvidence: number
}

const FIRST_DAY_RATIOS = [0, 0.25, 0.5, 0.8, 1.3, 2.2, 4]
const SIZES = 11
const DAY_RATIOS = 7
/** A scatter this much less likely than the likeliest (natural logarithm) is left out. */
const NEGLIGIBLE = 9

/**
 * Fits a season by integrating over how large the scatter from ride to ride and from day to day may be, on a grid that
 * closes in on what is likely. Small seasons give wide answers, as Student's t does for a plain mean.
 *
 * Scatter beforehand: flat in the logarithm of the ride's; the day's over the ride's a half-Cauchy of scale 1
 * (Gelman, Bayesian Analysis 2006, 1:515).
 *
 * @param model at least as many rides as columns + 2
 * @returns null where the rides do not determine the coefficients
 */
export function fitSeason(model: SeasonModel): SeasonFit | null {
  const data = gathered(model)
  const start = startSd(model)
  let sizes = spread(Math.log(start) - 2.5, Math.log(start) + 1.2, SIZES + 2)
  let ratios: readonly number[] = FIRST_DAY_RATIOS
  let points: GridPoint[] = []
  for (let round = 0; round < 2; round++) {
    points = gridOf(data, sizes, ratios)
    if (points.length === 0) return null
    const best = points.reduce((most, { logWeight }) => Math.max(most, logWeight), -Infinity)
    const likely = points.filter(({ logWeight }) => logWeight > best - NEGLIGIBLE)
    if (round === 0) {
      sizes = closer(
        sizes,
        likely.map(({ logSize }) => logSize),
        SIZES,
      )
      if (ratios.length > 1)
        ratios = closer(
          ratios,
          likely.map(({ ratio }) => ratio),
          DAY_RATIOS,
        )
    } else points = likely
  }
  const best = Math.max(...points.map(({ logWeight }) => logWeight))
  const total = points.reduce((sum, { logWeight }) => sum + Math.exp(logWeight - best), 0)
  return {
    columnCount: model.columnCount,
    parts: points.map(({ logWeight, mean, factor, logSize, ratio }) => ({
      weight: Math.exp(logWeight - best) / total,
      mean,
      factor,
      rideSd: Math.exp(logSize),
      daySd: ratio * Math.exp(logSize),
    })),
    logEvidence: best + Math.log(total),
  }
}

/**
 * What a combination of coefficients may be.
 *
 * @param fit of a season
 * @param contrast a factor for each coefficient
 * @returns a mixture of normal distributions, in the unit of y times the contrast's
 */
export function contrastOf(fit: SeasonFit, contrast: ArrayLike<number>): NormalPart[] {
  const n = fit.columnCount
  const along = Float64Array.from({ length: n }, (_, k) => contrast[k] ?? 0)
  return fit.parts.map(({ weight, mean, factor }) => {
    const solved = solveWithFactor(factor, along, n)
    let variance = 0
    let value = 0
    for (let k = 0; k < n; k++) {
      variance += along[k]! * solved[k]!
      value += along[k]! * mean[k]!
    }
    return { weight, mean: value, sd: Math.sqrt(Math.max(0, variance)) }
  })
}

/**
 * One possible season: coefficients and scatter drawn from what a fit leaves open.
 *
 * @param fit of a season
 * @param random where chance comes from
 * @returns coefficients, and the scatter that they go with
 */
export function drawSeason(
  fit: SeasonFit,
  random: Random,
): { coefficients: Float64Array; rideSd: number; daySd: number } {
  let left = random.uniform()
  let part = fit.parts[0]!
  for (const next of fit.parts) {
    part = next
    left -= next.weight
    if (left < 0) break
  }
  const noise = Float64Array.from({ length: fit.columnCount }, () => random.normal())
  const away = solveTransposed(part.factor, noise, fit.columnCount)
  return { coefficients: part.mean.map((mean, k) => mean + away[k]!), rideSd: part.rideSd, daySd: part.daySd }
}

/**
 * The scatter that a fit expects.
 *
 * @param fit of a season
 * @returns root mean squares from ride to ride and from day to day, in the unit of y
 */
export function scatterOf(fit: SeasonFit): { readonly rideSd: number; readonly daySd: number } {
  const mean = (of: (part: SeasonPart) => number) =>
    fit.parts.reduce((sum, part) => sum + part.weight * of(part) ** 2, 0)
  return { rideSd: Math.sqrt(mean((p) => p.rideSd)), daySd: Math.sqrt(mean((p) => p.daySd)) }
}

interface GridPoint {
  readonly logWeight: number
  readonly logSize: number
  readonly ratio: number
  readonly mean: Float64Array
  readonly factor: Float64Array
}

/** The rides of each day together. */
interface Gathered {
  readonly model: SeasonModel
  readonly days: readonly (readonly number[])[]
}

function gathered(model: SeasonModel): Gathered {
  const days: number[][] = []
  for (let i = 0; i < model.y.length; i++) (days[model.dayIndex[i]!] ??= []).push(i)
  return { model, days: days.filter((day) => day !== undefined) }
}

function gridOf(data: Gathered, sizes: readonly number[], ratios: readonly number[]): GridPoint[] {
  const points: GridPoint[] = []
  for (const [k, logSize] of sizes.entries()) {
    for (const [j, ratio] of ratios.entries()) {
      const solved = solveAt(data, Math.exp(logSize), ratio * Math.exp(logSize))
      if (solved === null) continue
      const share = Math.log(widthAt(sizes, k) * widthAt(ratios, j)) - Math.log1p(ratio * ratio)
      points.push({ ...solved, logWeight: solved.logEvidence + share, logSize, ratio })
    }
  }
  return points
}

/** Generalised least squares for one size of the scatter, day by day. */
function solveAt({ model, days }: Gathered, rideSd: number, daySd: number) {
  const { y, ySd, rows, columnCount: p, priorSd } = model
  const precision = new Float64Array(p * p)
  const right = new Float64Array(p)
  const sums = new Float64Array(p)
  let fit = 0
  let logDeterminant = 0
  for (let k = 0; k < p; k++) {
    const sd = priorSd?.[k] ?? Infinity
    if (sd === Infinity) continue
    precision[k * p + k] = 1 / (sd * sd)
    logDeterminant += 2 * Math.log(sd)
  }
  for (const day of days) {
    let weightSum = 0
    let ySum = 0
    sums.fill(0)
    for (const i of day) {
      const row = rows[i]!
      const weight = 1 / (rideSd * rideSd + ySd[i]! * ySd[i]!)
      weightSum += weight
      ySum += weight * y[i]!
      fit += weight * y[i]! * y[i]!
      logDeterminant -= Math.log(weight)
      for (let a = 0; a < p; a++) {
        const xa = row[a]!
        if (xa === 0) continue
        sums[a]! += weight * xa
        right[a]! += weight * xa * y[i]!
        for (let b = 0; b <= a; b++) precision[a * p + b]! += weight * xa * row[b]!
      }
    }
    const shared = (daySd * daySd) / (1 + daySd * daySd * weightSum)
    logDeterminant += Math.log1p(daySd * daySd * weightSum)
    fit -= shared * ySum * ySum
    for (let a = 0; a < p; a++) {
      if (sums[a] === 0) continue
      right[a]! -= shared * sums[a]! * ySum
      for (let b = 0; b <= a; b++) precision[a * p + b]! -= shared * sums[a]! * sums[b]!
    }
  }
  const factor = choleskyFactor(precision, p)
  if (factor === null) return null
  const mean = solveWithFactor(factor, right, p)
  for (let k = 0; k < p; k++) {
    fit -= mean[k]! * right[k]!
    logDeterminant += 2 * Math.log(factor[k * p + k]!)
  }
  return { mean, factor, logEvidence: -0.5 * (fit + logDeterminant) }
}

/** Spread of y about its plain least-squares fit: where to look for the scatter first. */
function startSd(model: SeasonModel): number {
  const { y, rows, columnCount: p } = model
  const precision = new Float64Array(p * p)
  const right = new Float64Array(p)
  for (let i = 0; i < y.length; i++) {
    for (let a = 0; a < p; a++) {
      right[a]! += rows[i]![a]! * y[i]!
      for (let b = 0; b < p; b++) precision[a * p + b]! += rows[i]![a]! * rows[i]![b]!
    }
  }
  for (let a = 0; a < p; a++) precision[a * p + a]! += 1e-9 * (1 + precision[a * p + a]!)
  const factor = choleskyFactor(precision, p)
  const mean = factor === null ? new Float64Array(p) : solveWithFactor(factor, right, p)
  let sum = 0
  for (let i = 0; i < y.length; i++) {
    let rest = y[i]!
    for (let a = 0; a < p; a++) rest -= mean[a]! * rows[i]![a]!
    sum += rest * rest
  }
  return Math.max(Math.sqrt(sum / Math.max(1, y.length - p)), 1e-6)
}

function spread(from: number, to: number, count: number): number[] {
  return Array.from({ length: count }, (_, k) => from + ((to - from) * k) / (count - 1))
}

/** A finer grid over the likely part of a coarse one, with its neighbours on both sides. */
function closer(grid: readonly number[], likely: readonly number[], count: number): number[] {
  const first = grid.indexOf(Math.min(...likely))
  const last = grid.indexOf(Math.max(...likely))
  return spread(grid[Math.max(0, first - 1)]!, grid[Math.min(grid.length - 1, last + 1)]!, count)
}

/** The stretch of the grid that a point stands for. */
function widthAt(grid: readonly number[], k: number): number {
  if (grid.length === 1) return 1
  const before = grid[Math.max(0, k - 1)]!
  const after = grid[Math.min(grid.length - 1, k + 1)]!
  return (after - before) / 2
}

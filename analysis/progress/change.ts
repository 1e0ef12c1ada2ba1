import type { Measured } from '../estimate.ts'
import { mixtureEstimate, type NormalPart } from '../numeric/mixture.ts'
import { seededRandom } from '../numeric/random.ts'
import { chanceOfStep, findSteps, prepareSearch, type StepSearch } from './change-search.ts'
import { contrastOf, fitSeason, scatterOf } from './season-fit.ts'
import { boardColumns, dayCount, type Series, spanOf } from './series.ts'

/** A change is looked for only in seasons with so many rides and days, and at least so many of both on each side. */
const FEWEST_RIDES = 10
const FEWEST_DAYS = 8
const RIDES_A_SIDE = 4
const DAYS_A_SIDE = 3
/** A step must explain the rides so much better than a line (difference of -2 log likelihood) to be told from one. */
const CLEARER_THAN_A_LINE = 9
/** Places less likely than this are left out when before and after are worked out. */
const NEGLIGIBLE_SHARE = 0.01

/** One change in a season, in days since 1970-01-01. */
export interface Change {
  /** The first day with a ride of the new kind. */
  readonly day: number
  readonly ci95: readonly [number, number]
  readonly before: Measured
  readonly after: Measured
}

/** What came of looking for a change. */
export interface ChangeSearch {
  /** Probability that a season without one shows as clear a step, 0 to 1. */
  readonly p: number
  /** The likeliest change, to be told only where `p` is small enough. */
  readonly change: Change
}

/**
 * Looks for one change in a season: a day from which on rides differ, beside each board's own level.
 *
 * @param series of one measure
 * @param tamed its values, wild ones pulled in and bounds filled in, as `trendOf` gives them
 * @returns null where the season is too short to look, where boards explain every step, or where a line describes the
 *   rides about as well
 */
export function findChange(series: Series, tamed: readonly number[]): ChangeSearch | null {
  const places = placesOf(series)
  if (places.length === 0) return null
  const boards = boardColumns(series)
  const plain = boards.map((columns) => [1, ...columns])
  const { from, to } = spanOf(series)
  const line = series.day.map((day) => (day - from) / Math.max(1, to - from) - 0.5)
  // The scatter is what is left beside a line and a step, so that neither is taken for scatter.
  let scatter = scatterBeside(
    series,
    tamed,
    plain.map((row, i) => [...row, line[i]!]),
  )
  let search: StepSearch | null = null
  let y: Float64Array = Float64Array.from(tamed)
  let gains: readonly number[] = []
  for (let round = 0; round < 2; round++) {
    if (scatter === null) return null
    const whiten = whitener(series, scatter)
    y = whiten(tamed)
    const steps = places.map((place) => whiten(stepAt(place, series)))
    search = prepareSearch({ y, plain: columnsOf(plain).map(whiten), steps })
    gains = findSteps(search, y).gains
    const best = places[indexOfMax(gains)]!
    const step = stepAt(best, series)
    if (round === 0)
      scatter =
        scatterBeside(
          series,
          tamed,
          plain.map((row, i) => [...row, line[i]!, step[i]!]),
        ) ?? scatter
  }
  if (search === null || scatter === null || Math.max(...gains) === 0) return null
  const whiten = whitener(series, scatter)
  const found = findSteps(search, y)
  const lineSearch = prepareSearch({ y, plain: columnsOf(plain).map(whiten), steps: [whiten(line)] })
  const lineGain = findSteps(lineSearch, y).gains[0]!
  const bestGain = Math.max(...gains)
  const better = y.length * Math.log((found.rest - lineGain) / Math.max(1e-12, found.rest - bestGain))
  if (better < CLEARER_THAN_A_LINE) return null
  const p = chanceOfStep(search, found, seededRandom(places.length))
  const change = describe(series, tamed, places, likelihoods(search, found), boards)
  return change === null ? null : { p, change }
}

/** The places where a step may be: the first ride of a day, with enough rides and days on both sides. */
function placesOf(series: Series): number[] {
  const n = series.value.length
  if (n < FEWEST_RIDES || dayCount(series) < FEWEST_DAYS) return []
  const days = dayCount(series)
  return Array.from({ length: n }, (_, i) => i).filter((i) => {
    const day = series.dayIndex[i]!
    const isFirst = i === 0 || series.dayIndex[i - 1] !== day
    return isFirst && i >= RIDES_A_SIDE && n - i >= RIDES_A_SIDE && day >= DAYS_A_SIDE && days - day >= DAYS_A_SIDE
  })
}

function stepAt(place: number, series: Series): number[] {
  return series.value.map((_, i) => (i >= place ? 1 : 0))
}

function scatterBeside(series: Series, y: readonly number[], rows: readonly number[][]) {
  const { sd: ySd, dayIndex } = series
  const fit = fitSeason({ y, ySd, rows, columnCount: rows[0]!.length, dayIndex })
  return fit === null ? null : scatterOf(fit)
}

/**
 * Divides columns by the scatter: a day's rides are turned so that what the day did to all of them is counted once
 * (Cholesky factor of a day's covariance, which is diagonal plus a constant).
 */
function whitener(series: Series, scatter: { readonly rideSd: number; readonly daySd: number }) {
  const shared = scatter.daySd ** 2
  return (column: readonly number[]): Float64Array => {
    const out = new Float64Array(column.length)
    let start = 0
    while (start < column.length) {
      let end = start
      while (end < column.length && series.dayIndex[end] === series.dayIndex[start]) end++
      // Each ride against what the day's earlier rides let expect.
      let weightSum = 0
      let pull = 0
      for (let i = start; i < end; i++) {
        const own = scatter.rideSd ** 2 + series.sd[i]! ** 2
        const dayVariance = shared / (1 + shared * weightSum)
        const expected = dayVariance * pull
        out[i] = (column[i]! - expected) / Math.sqrt(own + dayVariance)
        weightSum += 1 / own
        pull += column[i]! / own
      }
      start = end
    }
    return out
  }
}

function columnsOf(rows: readonly number[][]): number[][] {
  return rows[0]!.map((_, k) => rows.map((row) => row[k]!))
}

/** How likely the step is at each place, adding up to 1; each stands for the days since the ride day before it. */
function likelihoods(
  search: StepSearch,
  { gains, rest }: { readonly gains: readonly number[]; readonly rest: number },
) {
  const logs = gains.map((gain, k) =>
    search.steps[k] === null ? -Infinity : (-search.freedom / 2) * Math.log(Math.max(1e-12, rest - gain)),
  )
  const best = Math.max(...logs)
  const sizes = logs.map((log) => Math.exp(log - best))
  const total = sizes.reduce((sum, size) => sum + size, 0)
  return sizes.map((size) => size / total)
}

function describe(
  series: Series,
  y: readonly number[],
  places: readonly number[],
  shares: readonly number[],
  boards: readonly number[][],
): Change | null {
  const weighted = shares.map((share, k) => share * (series.day[places[k]!]! - series.day[places[k]! - 1]!))
  const total = weighted.reduce((sum, weight) => sum + weight, 0)
  const order = [...places.keys()].sort((a, b) => weighted[b]! - weighted[a]!)
  const kept: number[] = []
  let sum = 0
  for (const k of order) {
    if (sum >= 0.95 * total) break
    kept.push(k)
    sum += weighted[k]!
  }
  const before: NormalPart[] = []
  const after: NormalPart[] = []
  const { sd: ySd, dayIndex } = series
  for (const [k, share] of shares.entries()) {
    if (share < NEGLIGIBLE_SHARE) continue
    const rows = stepAt(places[k]!, series).map((step, i) => [1 - step, step, ...boards[i]!])
    const fit = fitSeason({ y, ySd, rows, columnCount: rows[0]!.length, dayIndex })
    if (fit === null) continue
    const scaled = (parts: NormalPart[]) => parts.map((part) => ({ ...part, weight: part.weight * share }))
    before.push(...scaled(contrastOf(fit, [1, 0])))
    after.push(...scaled(contrastOf(fit, [0, 1])))
  }
  if (before.length === 0) return null
  const first = Math.min(...kept.map((k) => places[k]!))
  const last = Math.max(...kept.map((k) => places[k]!))
  return {
    day: series.day[places[indexOfMax(shares)]!]!,
    ci95: [series.day[first - 1]! + 1, series.day[last]!],
    before: mixtureEstimate(ofWeightOne(before)),
    after: mixtureEstimate(ofWeightOne(after)),
  }
}

function ofWeightOne(parts: readonly NormalPart[]): NormalPart[] {
  const total = parts.reduce((sum, { weight }) => sum + weight, 0)
  return parts.map((part) => ({ ...part, weight: part.weight / total }))
}

function indexOfMax(values: readonly number[]): number {
  return values.reduce((best, value, k) => (value > values[best]! ? k : best), 0)
}

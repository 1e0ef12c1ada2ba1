import { withheld, type Estimate } from '../estimate.ts'
import { mixtureCdf, mixtureEstimate } from '../numeric/mixture.ts'
import { seededRandom } from '../numeric/random.ts'
import { fitCensored } from './impute.ts'
import { contrastOf, type SeasonFit } from './season-fit.ts'
import { DAYS_PER_MONTH } from './season.ts'
import { boardColumns, dayCount, type Series, spanOf } from './series.ts'
import { tameOutliers } from './tame-outliers.ts'

/** A trend is not called on fewer rides than this, on fewer days, or on fewer values that are more than a bound. */
const FEWEST_RIDES = 6
const FEWEST_DAYS = 4
const FEWEST_VALUES = 5

/** A straight line through a season, each board at its own level. */
export type TrendLine =
  | { readonly kind: 'too-few'; readonly detail: string }
  | {
      readonly kind: 'line'
      /** Change in a month, in the measure's unit. */
      readonly perMonth: Estimate & { readonly kind: 'measured' }
      /** Probability of a slope at least this far from 0 by chance, two-sided. */
      readonly p: number
      /** First to last ride, months. */
      readonly months: number
      readonly fit: SeasonFit
      /** The values that the line was fitted to: wild ones pulled in, bounds replaced by what they may be. */
      readonly tamed: readonly number[]
    }

/**
 * The trend of one measure: a line per month beside each board's own level, with scatter from day to day and ride to
 * ride, the measurement's own uncertainty, wild rides pulled in and lower bounds as such.
 *
 * @param series of one measure
 * @returns `too-few` with what would help, or the line
 */
export function trendOf(series: Series): TrendLine {
  const short = tooFew(series)
  if (short !== null) return { kind: 'too-few', detail: short }
  const { from, to } = spanOf(series)
  const middle = (from + to) / 2
  const columns = boardColumns(series)
  const rows = series.day.map((day, i) => [1, (day - middle) / DAYS_PER_MONTH, ...columns[i]!])
  const columnCount = rows[0]!.length
  const { dayIndex, isBound } = series
  const tamed = tameOutliers(series.value, series.sd, rows)
  const y = tamed.map((value, i) => (isBound[i] ? series.value[i]! : value))
  const random = seededRandom(series.value.length)
  const fitted = fitCensored({ y, ySd: series.sd, rows, columnCount, dayIndex, isBound }, random)
  if (fitted === null) return { kind: 'too-few', detail: oneBoardEach }
  const slope = contrastOf(fitted.fit, [0, 1])
  const below = mixtureCdf(slope, 0)
  return {
    kind: 'line',
    perMonth: mixtureEstimate(slope),
    p: 2 * Math.min(below, 1 - below),
    months: (to - from) / DAYS_PER_MONTH,
    fit: fitted.fit,
    tamed: fitted.filled,
  }
}

/** A trend that is not given, with the reason. Returns a withheld value for `detail`. */
export function noTrend(detail: string): Estimate {
  return withheld('too-few', detail)
}

const oneBoardEach = 'Board and date cannot be told apart: ride one board on several days.'

function tooFew(series: Series): string | null {
  const rides = series.value.length
  const days = dayCount(series)
  const values = series.isBound.filter((bound) => !bound).length
  if (rides < FEWEST_RIDES) return `${count(rides, 'ride')}: too few to call a trend.`
  if (days < FEWEST_DAYS) return `${count(rides, 'ride')} on ${count(days, 'day')}: too few days to call a trend.`
  if (values < FEWEST_VALUES) return 'Nearly every clip ends too early: too few values to call a trend.'
  // Days on which a board is met for the first time say nothing about time.
  const boardDays = new Set(series.day.map((day, i) => `${series.boardIndex[i]} ${day}`)).size
  if (boardDays - series.boardCount < 3) return oneBoardEach
  return rides - series.boardCount < 4 ? oneBoardEach : null
}

function count(n: number, thing: string): string {
  return `${n} ${thing}${n === 1 ? '' : 's'}`
}

import type { Measured } from '../estimate.ts'
import { findChange } from './change.ts'
import { believable } from './discoveries.ts'
import { frequencyChanges } from './frequency-change.ts'
import { haltsOf } from './halts.ts'
import { hintsFor } from './hints.ts'
import { MEASURES } from './measure-words.ts'
import { ratesOf } from './rates.ts'
import { boardsOf, dayText, measuredRides, type Season, type SeasonRide } from './season.ts'
import type { DogReport, MeasureTrend, TrendVerdict } from './report-parts.ts'
import { sentencesFor } from './sentences.ts'
import { seriesOf } from './series.ts'
import { noTrend, trendOf } from './trend.ts'
import { waitsOrCounts } from './waits-or-counts.ts'

/**
 * How often something is found in a season in which nothing happened, at most: over all measures together, over all
 * boards and measures together, and over all that is counted. The three add up to 5 in 100.
 */
const FALSE_ALARMS = { overall: 0.03, byBoard: 0.005, counted: 0.015 }

/**
 * The report of a dog's season.
 *
 * @param season its rides; those by hand count in the marked part of the rates only
 * @returns numbers, and sentences that rest on them
 */
export function reportOf(season: Season): DogReport {
  const { rides } = season
  const boards = boardsOf(measuredRides(rides))
  const trends = trendsOf([rides], FALSE_ALARMS.overall)[0]!
  const onBoards = boards.map((name) => rides.filter(({ board }) => board === name))
  const boardTrends = trendsOf(onBoards, FALSE_ALARMS.byBoard)
  const numbers = {
    dog: season.dog,
    rides: rides.length,
    byHand: rides.filter(({ byHand }) => byHand).length,
    trends,
    rates: ratesOf(season),
    halts: haltsOf(rides),
    frequencies: frequencyChanges(season, FALSE_ALARMS.counted),
    byBoard: boards.map((board, b) => ({
      board,
      rides: measuredRides(onBoards[b]!).length,
      trends: boardTrends[b]!,
      rates: ratesOf({ rides: onBoards[b]!, criterion: season.criterion }),
    })),
    waitsOrCounts: waitsOrCounts(rides),
  }
  return { ...numbers, sentences: sentencesFor(numbers, season), hints: hintsFor(numbers), note: noteOn(numbers) }
}

/** Trends of all measures of several groups of rides, believed or not together. */
function trendsOf(groups: readonly (readonly SeasonRide[])[], falseAlarms: number): MeasureTrend[][] {
  const all = groups.flatMap((rides, group) =>
    Object.keys(MEASURES).flatMap((measure) => {
      const series = seriesOf(measure, rides)
      if (series.value.length === 0) return []
      const line = trendOf(series)
      return [{ group, series, line, search: line.kind === 'line' ? findChange(series, line.tamed) : null }]
    }),
  )
  const lines = all.flatMap((one) => (one.line.kind === 'line' ? [{ one, p: one.line.p }] : []))
  const moving = new Set(chosen(lines, falseAlarms))
  // A change is tested on every line, also where none worth testing came up.
  const changed = new Set(
    chosen(
      lines.map(({ one }) => ({ one, p: one.search?.p ?? 1 })),
      falseAlarms,
    ),
  )
  return groups.map((_, group) =>
    all
      .filter((one) => one.group === group)
      .map((one): MeasureTrend => {
        const { series, line, search } = one
        const common = { measure: series.measure, rides: series.value.length, restsOn: series.rideIndex }
        if (line.kind === 'too-few') {
          return { ...common, perMonth: noTrend(line.detail), verdict: 'too-few', change: null, months: 0 }
        }
        const change = search !== null && changed.has(one) ? search.change : null
        return {
          ...common,
          perMonth: line.perMonth,
          verdict: verdictOf(series.measure, line.perMonth, line.months, moving.has(one), change !== null),
          change: change && {
            day: dayText(change.day),
            ci95: [dayText(change.ci95[0]), dayText(change.ci95[1])],
            before: change.before,
            after: change.after,
          },
          months: line.months,
        }
      }),
  )
}

function chosen<T>(findings: readonly { readonly one: T; readonly p: number }[], level: number): T[] {
  const believed = believable(
    findings.map(({ p }) => p),
    level,
  )
  return findings.flatMap(({ one }, k) => (believed[k] ? [one] : []))
}

/** Steady only when the interval leaves no room for a change over the season, or over a month, that would matter. */
function verdictOf(
  measure: string,
  perMonth: Measured,
  months: number,
  isMoving: boolean,
  hasChanged: boolean,
): TrendVerdict {
  if (isMoving) return perMonth.value > 0 ? 'rising' : 'falling'
  const reach = Math.max(1, months) * Math.max(Math.abs(perMonth.ci95[0]), Math.abs(perMonth.ci95[1]))
  return !hasChanged && reach < MEASURES[measure]!.smallestChange ? 'steady' : 'unclear'
}

function noteOn({ rides, byHand, trends }: Pick<DogReport, 'rides' | 'byHand' | 'trends'>): string | null {
  const filmed = rides - byHand
  if (filmed === 0) return 'No filmed rides yet: film a ride from the side.'
  if (trends.every(({ verdict }) => verdict === 'too-few')) {
    const best = trends.reduce<MeasureTrend | null>((a, b) => (a === null || b.rides > a.rides ? b : a), null)
    return best?.perMonth.kind === 'withheld' ? best.perMonth.detail : null
  }
  return null
}

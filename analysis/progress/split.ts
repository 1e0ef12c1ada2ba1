import { withheld, type Estimate } from '../estimate.ts'
import { mixtureEstimate, type NormalPart } from '../numeric/mixture.ts'
import { seededRandom } from '../numeric/random.ts'
import { fitCensored } from './impute.ts'
import { MEASURES } from './measure-words.ts'
import { type Rate, ratesOf } from './rates.ts'
import { contrastOf } from './season-fit.ts'
import { measuredRides, type Season, type SeasonRide } from './season.ts'
import { seriesOf, type Series } from './series.ts'
import { tameOutliers } from './tame-outliers.ts'

/** What a season's rides can be told apart by. */
export type SplitBy = 'board' | 'material' | 'feel' | 'surface' | 'purpose'
const SPLITS: readonly SplitBy[] = ['board', 'material', 'feel', 'surface', 'purpose']

/** The usual value of one measure over some rides. */
export interface Level {
  readonly measure: string
  /** In the measure's unit. */
  readonly level: Estimate
  /** Filmed rides with a value or a bound. */
  readonly rides: number
  /** Places in the dog's list. */
  readonly restsOn: readonly number[]
}

/** The rides that have one thing in common. */
export interface SplitGroup {
  /** "Club board", "wood", "grass", "show". */
  readonly name: string
  /** Filmed rides. */
  readonly rides: number
  readonly rates: readonly Rate[]
  readonly levels: readonly Level[]
  readonly restsOn: readonly number[]
}

export interface Split {
  readonly by: SplitBy
  /** The most used first; rides of which it is not known are in none. */
  readonly groups: readonly SplitGroup[]
}

const FEWEST = 3

/**
 * A season told apart by board, by what boards are made of, by how they feel, by ground, and by training or show.
 *
 * @param season of one dog
 * @param aboutBoard what a board is made of, and how it feels (s under a dog of 10 kg); null where that is not known
 * @returns only splits with two groups or more: one group is the season itself
 */
export function splitsOf(
  season: Season,
  aboutBoard: (board: string) => { readonly material: string | null; readonly feelS: number | null },
): Split[] {
  const keyOf: Record<SplitBy, (ride: SeasonRide) => string | null> = {
    board: ({ board }) => board,
    material: ({ board }) => (board === null ? null : aboutBoard(board).material),
    feel: ({ board }) => (board === null ? null : feelClass(aboutBoard(board).feelS)),
    surface: ({ surface }) => surface,
    purpose: ({ purpose }) => purpose,
  }
  return SPLITS.map((by) => ({ by, groups: groupsOf(season, keyOf[by]) })).filter(({ groups }) => groups.length > 1)
}

/** Boards within a tenth of a second feel alike: "0.5 to 0.6 s". */
function feelClass(feelS: number | null): string | null {
  if (feelS === null) return null
  const tenth = Math.floor(10 * feelS)
  return `${(tenth / 10).toFixed(1)} to ${((tenth + 1) / 10).toFixed(1)} s`
}

/**
 * Some rides of a dog as a group with a name.
 *
 * @param name what they have in common
 * @param season the dog's criterion, and the rides of the group
 * @returns rates and levels over the filmed ones
 */
export function groupOf(name: string, season: Pick<Season, 'rides' | 'criterion'>): SplitGroup {
  const filmed = measuredRides(season.rides)
  return {
    name,
    rides: filmed.length,
    rates: ratesOf({ rides: filmed, criterion: season.criterion }),
    levels: Object.keys(MEASURES).flatMap((measure) => levelOf(measure, filmed) ?? []),
    restsOn: filmed.map(({ index }) => index),
  }
}

function groupsOf(season: Season, keyOf: (ride: SeasonRide) => string | null): SplitGroup[] {
  const names = new Map<string, SeasonRide[]>()
  for (const ride of measuredRides(season.rides)) {
    const name = keyOf(ride)?.trim() ?? ''
    if (name !== '') names.set(name, [...(names.get(name) ?? []), ride])
  }
  return [...names]
    .map(([name, rides]) => groupOf(name, { rides, criterion: season.criterion }))
    .sort((a, b) => b.rides - a.rides || (a.name < b.name ? -1 : 1))
}

function levelOf(measure: string, rides: readonly SeasonRide[]): Level | null {
  const series = seriesOf(measure, rides)
  const count = series.value.length
  if (count === 0) return null
  return { measure, level: levelIn(series), rides: count, restsOn: series.rideIndex }
}

function levelIn(series: Series): Estimate {
  const level = levelParts(series)
  return typeof level === 'string' ? withheld('too-few', level) : mixtureEstimate(level)
}

/**
 * The mean of a series with scatter of rides and days, wild rides pulled in, bounds as such.
 *
 * @param series of one measure
 * @returns what the mean may be, in the measure's unit; a sentence where there are too few rides
 */
export function levelParts(series: Series): readonly NormalPart[] | string {
  const { value } = series
  const rows = value.map(() => [1])
  const known = series.isBound.filter((bound) => !bound).length
  if (known < FEWEST) return `${value.length} ${value.length === 1 ? 'ride' : 'rides'}: too few to give a usual value.`
  return contrastIn(series, rows, [1]) ?? 'These rides do not give a usual value.'
}

/**
 * A combination of coefficients of a model of a series; wild rides are pulled in, bounds taken as such.
 *
 * @param series of one measure
 * @param rows of the model, one for each ride
 * @param contrast a factor for each column
 * @returns what it may be, in the measure's unit; null where the rides do not tell
 */
export function contrastIn(
  series: Series,
  rows: readonly (readonly number[])[],
  contrast: readonly number[],
): readonly NormalPart[] | null {
  const { value, sd, dayIndex, isBound } = series
  const tamed = tameOutliers(value, sd, rows)
  const y = tamed.map((one, i) => (isBound[i] ? value[i]! : one))
  const model = { y, ySd: sd, rows, columnCount: contrast.length, dayIndex, isBound }
  const fitted = fitCensored(model, seededRandom(value.length))
  return fitted === null ? null : contrastOf(fitted.fit, contrast)
}

import { boardsOf, type SeasonRide } from './season.ts'

/** One measure over a season: only rides on which it was measured or is known from below. */
export interface Series {
  readonly measure: string
  /** Each ride's place in the dog's list. */
  readonly rideIndex: readonly number[]
  /** Days since 1970-01-01, in rising order. */
  readonly day: readonly number[]
  /** The day of each ride, counted from 0. */
  readonly dayIndex: readonly number[]
  /** The value, or the bound it is at least; in the measure's unit. */
  readonly value: readonly number[]
  /** Standard deviation of the measurement; 0 for bounds. */
  readonly sd: readonly number[]
  readonly isBound: readonly boolean[]
  /** The board of each ride, counted from 0; rides on unknown boards share one. */
  readonly boardIndex: readonly number[]
  readonly boardCount: number
}

/**
 * Takes one measure out of a season.
 *
 * @param measure its name in ride files
 * @param rides of one dog; those entered by hand or without a day are left out
 * @returns the rides in order of their days
 */
export function seriesOf(measure: string, rides: readonly SeasonRide[]): Series {
  const told = rides.flatMap((ride) => {
    const estimate = ride.measures[measure]
    if (ride.byHand || ride.day === null || estimate === undefined || estimate.kind === 'withheld') return []
    return [{ ride, day: ride.day, estimate }]
  })
  told.sort((a, b) => a.day - b.day || a.ride.index - b.ride.index)
  const days = [...new Set(told.map(({ day }) => day))]
  const boards = boardsOf(told.map(({ ride }) => ride))
  const boardIndex = told.map(({ ride }) => (ride.board === null ? boards.length : boards.indexOf(ride.board)))
  return {
    measure,
    rideIndex: told.map(({ ride }) => ride.index),
    day: told.map(({ day }) => day),
    dayIndex: told.map(({ day }) => days.indexOf(day)),
    value: told.map(({ estimate }) => estimate.value),
    sd: told.map(({ estimate }) => (estimate.kind === 'measured' ? estimate.sd : 0)),
    isBound: told.map(({ estimate }) => estimate.kind === 'atLeast'),
    boardIndex,
    boardCount: boards.length + (boardIndex.includes(boards.length) ? 1 : 0),
  }
}

/** How many different days a `series` has. */
export function dayCount(series: Series): number {
  return new Set(series.day).size
}

/** The first and last day of a `series` with at least one ride. */
export function spanOf(series: Series): { readonly from: number; readonly to: number } {
  return { from: series.day[0]!, to: series.day[series.day.length - 1]! }
}

/**
 * Columns that let every board have its own level, so that a change of board is no change of the dog.
 *
 * The last board's column follows from the others; each column is centred, so that a level beside them is that of the
 * season's mix of boards.
 *
 * @param series of one measure
 * @returns boardCount - 1 numbers for each ride
 */
export function boardColumns(series: Series): number[][] {
  const n = series.value.length
  const shares = Array.from(
    { length: series.boardCount },
    (_, b) => series.boardIndex.filter((k) => k === b).length / n,
  )
  return series.boardIndex.map((board) => shares.slice(1).map((share, k) => (board === k + 1 ? 1 : 0) - share))
}

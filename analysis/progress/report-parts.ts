import type { Estimate, Measured } from '../estimate.ts'
import type { FrequencyChange } from './frequency-change.ts'
import type { Halt } from './halts.ts'
import type { Rate } from './rates.ts'
import type { WaitsOrCounts } from './waits-or-counts.ts'

/** A sentence with the rides behind it. */
export interface Sentence {
  readonly text: string
  /** What it is about, which is where its figure is: a measure's name, a rate's, or `clock` for waiting or counting. */
  readonly about: string
  /** Places in the dog's list of rides. */
  readonly restsOn: readonly number[]
}

/** Something to try in the next sessions. */
export interface Hint {
  readonly text: string
  /** Where it comes from. */
  readonly source: string
}

export type TrendVerdict = 'rising' | 'falling' | 'steady' | 'unclear' | 'too-few'

/** How one measure went over the season. */
export interface MeasureTrend {
  readonly measure: string
  /** Filmed rides with a value or a bound. */
  readonly rides: number
  /** Change a month, in the measure's unit. */
  readonly perMonth: Estimate
  readonly verdict: TrendVerdict
  readonly change: {
    /** First day with a ride of the new kind, and from when to when the change may have come. */
    readonly day: string
    readonly ci95: readonly [string, string]
    readonly before: Measured
    readonly after: Measured
  } | null
  /** First to last ride, months. */
  readonly months: number
  /** Places in the dog's list. */
  readonly restsOn: readonly number[]
}

/** The rides on one board, as those on all of them. */
export interface BoardReport {
  readonly board: string
  readonly rides: number
  readonly trends: readonly MeasureTrend[]
  readonly rates: readonly Rate[]
}

/** All that many rides of one dog say together. */
export interface DogReport {
  readonly dog: string
  /** All rides, and how many of them were entered by hand. */
  readonly rides: number
  readonly byHand: number
  readonly trends: readonly MeasureTrend[]
  readonly rates: readonly Rate[]
  /** Pauses and turning back on the plank. */
  readonly halts: readonly Halt[]
  /** What became more or less frequent of all that is counted. */
  readonly frequencies: readonly FrequencyChange[]
  readonly byBoard: readonly BoardReport[]
  readonly waitsOrCounts: WaitsOrCounts
  readonly sentences: readonly Sentence[]
  readonly hints: readonly Hint[]
  /** What keeps it from saying more, a sentence; null when there is enough. */
  readonly note: string | null
}

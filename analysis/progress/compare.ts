import { isMeasured } from '../words/in-words.ts'
import { type Estimate, measured, withheld, Z95 } from '../estimate.ts'
import { mixtureDifference, mixtureEstimate } from '../numeric/mixture.ts'
import { MEASURES } from './measure-words.ts'
import type { Rate } from './rates.ts'
import { measuredRides, type Season, type SeasonRide } from './season.ts'
import { seriesOf } from './series.ts'
import { contrastIn, groupOf, levelParts, type SplitGroup } from './split.ts'

/** One side of a comparison: rides of one dog, on all boards or on one. */
export interface ComparedSide extends Pick<Season, 'dog' | 'criterion' | 'rides'> {
  /** "Moss on Club board" */
  readonly name: string
}

/** By how much the second side is more than the first. */
export interface Difference<What extends string = string> {
  /** A measure by its name in ride files, or what is counted. */
  readonly what: What
  /** Second side less first, in the measure's unit, or as a share of rides; withheld where rides are too few. */
  readonly difference: Estimate
  /** `too-close`: the 95 % interval holds 0. */
  readonly verdict: 'more' | 'less' | 'too-close' | 'not-known'
}

export interface Comparison {
  readonly sides: readonly [SplitGroup, SplitGroup]
  readonly rates: readonly Difference<Rate['what']>[]
  readonly measures: readonly Difference[]
  /** What the differences may rest on beside the dogs or boards that are compared; null: nothing that is known. */
  readonly caution: string | null
}

/**
 * Two dogs, or one dog on two boards, side by side, each difference with its interval.
 *
 * Of one dog that rode on both sides on the same days, the day's part falls out of the difference; other sides are
 * known apart from each other, each with its own scatter.
 *
 * @param one the first side
 * @param other the second
 * @returns differences of all that both sides tell; rides that stand on both sides leave nothing to compare
 */
export function compareSides(one: ComparedSide, other: ComparedSide): Comparison {
  const sides = [groupOf(one.name, one), groupOf(other.name, other)] as const
  const isOneDog = one.dog === other.dog
  const areSame = isOneDog && sides[0].restsOn.some((index) => sides[1].restsOn.includes(index))
  const told = <What extends string>(what: What, work: () => Estimate): Difference<What> => {
    const difference = areSame ? withheld('too-few', 'Some rides stand on both sides: choose two boards.') : work()
    return { what, difference, verdict: verdictOn(difference) }
  }
  return {
    sides,
    rates: sides[0].rates.flatMap((first) => {
      const second = sides[1].rates.find(({ what }) => what === first.what)
      return second === undefined ? [] : [told(first.what, () => rateDifference(first, second))]
    }),
    measures: Object.keys(MEASURES)
      .filter((measure) => sides.every(({ levels }) => levels.some((level) => level.measure === measure)))
      .map((measure) => told(measure, () => levelDifference(measure, one.rides, other.rides, isOneDog))),
    caution: isOneDog ? null : boardCaution(one.rides, other.rides),
  }
}

/**
 * The difference of two shares by the hybrid score method (Newcombe, Stat Med 1998, 17:873, method 10), from each
 * share's own interval.
 *
 * @param one a rate; @param other the same of the other side
 * @returns other - one as a share of rides, -1 to 1; withheld where one was decided on no ride
 */
export function rateDifference(one: Rate, other: Rate): Estimate {
  if (one.of === 0 || other.of === 0) return withheld('too-few', 'No ride of one side tells.')
  const [a, b] = [one.count / one.of, other.count / other.of]
  const value = b - a
  const lo = value - Math.hypot(b - other.ci95[0], one.ci95[1] - a)
  const hi = value + Math.hypot(other.ci95[1] - b, a - one.ci95[0])
  return { ...measured(value, (hi - lo) / (2 * Z95)), ci95: [lo, hi] }
}

function levelDifference(
  measure: string,
  one: readonly SeasonRide[],
  other: readonly SeasonRide[],
  isOneDog: boolean,
): Estimate {
  const [first, second] = [seriesOf(measure, one), seriesOf(measure, other)]
  const [a, b] = [levelParts(first), levelParts(second)]
  if (typeof a === 'string' || typeof b === 'string') {
    return withheld('too-few', 'Too few rides on one side to compare.')
  }
  if (isOneDog && first.day.some((day) => second.day.includes(day))) {
    const both = seriesOf(measure, [...one, ...other])
    const rows = both.rideIndex.map((index) => [1, second.rideIndex.includes(index) ? 1 : 0])
    const parts = contrastIn(both, rows, [0, 1])
    if (parts !== null) return mixtureEstimate(parts)
  }
  return mixtureDifference(a, b)
}

function verdictOn(difference: Estimate): Difference['verdict'] {
  if (!isMeasured(difference)) return 'not-known'
  const [lo, hi] = difference.ci95
  return lo > 0 ? 'more' : hi < 0 ? 'less' : 'too-close'
}

function boardCaution(one: readonly SeasonRide[], other: readonly SeasonRide[]): string | null {
  const boards = (rides: readonly SeasonRide[]) => [...new Set(measuredRides(rides).map(({ board }) => board ?? ''))]
  const [first, second] = [boards(one), boards(other)]
  const shared = first.filter((board) => second.includes(board))
  if (shared.length === first.length && shared.length === second.length && shared.length === 1) return null
  return shared.length === 0
    ? 'They rode different boards, so a difference may be the boards’: film both on one board.'
    : 'They did not ride the same boards equally often, so a difference may be the boards’: choose the same board on both sides.'
}

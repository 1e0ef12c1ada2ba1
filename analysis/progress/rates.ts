import { Z95 } from '../estimate.ts'
import { isMeasured } from '../words/in-words.ts'
import { type Criterion, measuredRides, type Season, type SeasonRide } from './season.ts'

/** How often something happened. */
export interface Rate<What extends string = 'early' | 'up-missed' | 'down-missed' | 'criterion-met'> {
  readonly what: What
  readonly count: number
  /** Rides on which it was decided. */
  readonly of: number
  /** Share, 0 to 1: Wilson's interval, widened by what the undecided rides may have been. */
  readonly ci95: readonly [number, number]
  /** Rides that were too close to call or not sure. */
  readonly undecided: number
  /** Places in the dog's list of the rides that count. */
  readonly restsOn: readonly number[]
  /** The same told by a person of rides that were not filmed; not part of the numbers above. */
  readonly byHand: { readonly count: number; readonly of: number } | null
}

/**
 * Wilson's interval for a share (J Am Stat Assoc 1927, 22:209).
 *
 * @param count how often it happened; @param of how many times it could have
 * @returns 0 to 1; the whole range when `of` is 0
 * @example wilson(81, 263) // [0.2553, 0.3662], the example of Newcombe (Stat Med 1998, 17:857), from memory
 */
export function wilson(count: number, of: number): [number, number] {
  if (of === 0) return [0, 1]
  const share = count / of
  const square = Z95 * Z95
  const middle = (share + square / (2 * of)) / (1 + square / of)
  const half = (Z95 * Math.sqrt((share * (1 - share)) / of + square / (4 * of * of))) / (1 + square / of)
  return [count === 0 ? 0 : middle - half, count === of ? 1 : middle + half]
}

/**
 * The rates of a dog's rides: left early, contacts missed, criterion met. A rate that no ride tells of is left out.
 *
 * @param season of one dog; its criterion decides what "met" means
 * @returns rates in that order
 */
export function ratesOf(season: Pick<Season, 'rides' | 'criterion'>): Rate[] {
  return rateQuestions(season.criterion).flatMap(([what, judge]) => {
    const rate = rateOf(what, season.rides, judge)
    return rate.of + rate.undecided + (rate.byHand?.of ?? 0) === 0 ? [] : [rate]
  })
}

/** What a ride says about a question. */
export type Verdict = 'yes' | 'no' | 'undecided' | 'unknown'

/** Something that happens on a ride or not, and how to tell. */
export type Question<What extends string = Rate['what']> = readonly [What, (ride: SeasonRide) => Verdict]

/**
 * What is asked of each ride of a dog.
 *
 * @param criterion what it is trained to; null: whether it was met is not asked
 * @returns in the order in which rates are told
 */
export function rateQuestions(criterion: Criterion | null): readonly Question[] {
  return [
    ['early', leftEarly],
    ['up-missed', (ride) => missed(ride.upZone)],
    ['down-missed', (ride) => missed(ride.downZone)],
    ...(criterion === null ? [] : [['criterion-met', (ride: SeasonRide) => metCriterion(ride, criterion)] as const]),
  ]
}

/**
 * How often something happened.
 *
 * @param what its name; @param rides of one dog; @param judge what a ride says about it
 * @returns counts of filmed rides, with what was told of the others beside them
 */
export function rateOf<What extends string>(
  what: What,
  rides: readonly SeasonRide[],
  judge: (ride: SeasonRide) => Verdict,
): Rate<What> {
  const judged = measuredRides(rides).map((ride) => ({ ride, verdict: judge(ride) }))
  const number = (verdict: Verdict) => judged.filter((one) => one.verdict === verdict).length
  const count = number('yes')
  const of = count + number('no')
  const undecided = number('undecided')
  const [lo, hi] = wilson(count, of)
  const told = rides.filter(({ byHand }) => byHand).map(judge)
  const toldYes = told.filter((verdict) => verdict === 'yes').length
  const toldOf = toldYes + told.filter((verdict) => verdict === 'no').length
  return {
    what,
    count,
    of,
    ci95: [Math.min(lo, wilson(count, of + undecided)[0]), Math.max(hi, wilson(count + undecided, of + undecided)[1])],
    undecided,
    restsOn: judged.filter(({ verdict }) => verdict === 'yes' || verdict === 'no').map(({ ride }) => ride.index),
    byHand: toldOf === 0 ? null : { count: toldYes, of: toldOf },
  }
}

/**
 * Whether a dog left before the board had landed; jumping off before the tip counts.
 *
 * @param ride with its leaving verdict
 * @returns `undecided` when it was too close to call, `unknown` when it was not seen
 */
export function leftEarly(ride: SeasonRide): Verdict {
  switch (ride.leaving) {
    case 'before-ground':
    case 'before-tip':
      return 'yes'
    case 'after-ground':
      return 'no'
    case 'too-close':
      return 'undecided'
    case 'not-seen':
    case null:
      return 'unknown'
  }
}

function missed(zone: SeasonRide['downZone']): Verdict {
  switch (zone) {
    case 'missed':
      return 'yes'
    case 'touched':
      return 'no'
    case 'unsure':
      return 'undecided'
    case null:
      return 'unknown'
  }
}

/** Held until then, and the down contact touched. */
function metCriterion(ride: SeasonRide, { holdAfterGroundS }: Criterion): Verdict {
  const early = leftEarly(ride)
  if (early === 'yes' || ride.downZone === 'missed') return 'no'
  const margin = ride.measures['leavingMarginS'] ?? ride.measures['stayAfterGroundS']
  let held: Verdict = early === 'no' && holdAfterGroundS === 0 ? 'yes' : early === 'undecided' ? 'undecided' : 'unknown'
  if (margin?.kind === 'atLeast') held = margin.value >= holdAfterGroundS ? 'yes' : 'undecided'
  else if (margin !== undefined && isMeasured(margin)) {
    held = margin.ci95[0] >= holdAfterGroundS ? 'yes' : margin.ci95[1] < holdAfterGroundS ? 'no' : 'undecided'
  }
  if (held !== 'yes') return held
  return ride.downZone === 'touched' ? 'yes' : ride.downZone === 'unsure' ? 'undecided' : 'unknown'
}

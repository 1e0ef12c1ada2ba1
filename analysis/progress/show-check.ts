import { withheld, type Estimate, type Measured } from '../estimate.ts'
import { quantile } from '../numeric/robust.ts'
import { seededRandom } from '../numeric/random.ts'
import type { RuleSet } from '../rules/rule-sets.ts'
import { findChange } from './change.ts'
import { boardsOf, measuredRides, type SeasonRide } from './season.ts'
import { seriesOf } from './series.ts'
import { earlyChance, possibleDogs, type PossibleDog } from './show-chance.ts'
import { showMargins, type ShowMargins } from './show-margins.ts'
import { trendOf } from './trend.ts'
import { type BoardCount, missedChances } from './zone-chance.ts'

/** What is asked: a board by name, or by its fall in s, and by which rules. */
export interface ShowQuestion {
  readonly board: string | null
  readonly fallS: number | null
  /** How far the board's fall may be off `fallS`, 1 sd, s; absent: it is as it was asked for. */
  readonly fallSdS?: number
  /** The fall was worked out from how the board feels. */
  readonly isByFeel?: boolean
  readonly rules: RuleSet
}

export interface ShowCheck {
  readonly earlyChance: Estimate
  readonly missedDownChance: Estimate
  /** Filmed rides and boards behind it, and the rides' places in the dog's list. */
  readonly restsOn: { readonly rides: number; readonly boards: number; readonly shows: number }
  readonly rideIndices: readonly number[]
  readonly verdict: 'likely-fine' | 'at-risk' | 'cannot-tell'
  /** What of several single changes would lower the chance of leaving early most; null when none would by much. */
  readonly biggestLever: Lever | null
  /** Only rides from this day on count, as the dog changed then; days since 1970-01-01. */
  readonly since: number | null
}

/** A single change in training, and the chance of leaving early that it would leave, 0 to 1. */
export interface Lever {
  readonly what: 'hold-longer' | 'steadier' | 'wait-for-landing' | 'no-pops'
  readonly earlyChance: number
}

/** Fewer rides than this say nothing about a show. */
const FEWEST_RIDES = 6
/** Chances: certainly below the first is likely fine; very likely above the second is at risk. Ours; no source. */
export const FINE_BELOW = 0.2
export const RISK_ABOVE = 0.1
const RISK_SURE = 0.9
/** A dog is taken to have changed, or to drift, only on evidence this strong (probability by chance). */
const CHANGED = 0.005
const LEAST_GAIN = 0.03

/**
 * How likely a dog leaves early, and misses the down contact, on a board at a show.
 *
 * @param rides of one dog; those by hand do not count
 * @param question the board and the rules
 * @returns chances with intervals, or withheld on too few rides; the verdict is for the worse of the two
 */
export function checkShow(rides: readonly SeasonRide[], question: ShowQuestion): ShowCheck {
  const filmed = measuredRides(rides)
  const form = formOf(filmed)
  const counting = form.since === null ? filmed : filmed.filter(({ day }) => day !== null && day >= form.since!)
  const margins = showMargins(counting, question)
  const random = seededRandom(margins.rides.length)
  const dogs = margins.rides.length < FEWEST_RIDES ? null : possibleDogs(margins, form.drifts, random)
  const chances = dogs?.map(earlyChance) ?? null
  const zones = missedDown(counting, question)
  const used = new Set([...margins.rides.map(({ index }) => index), ...zones.rideIndices])
  const behind = counting.filter(({ index }) => used.has(index))
  return {
    earlyChance: chances === null ? tooFew(margins.rides.length) : chanceEstimate(chances),
    missedDownChance: zones.chances === null ? tooFew(zones.rideIndices.length) : zones.estimate,
    restsOn: {
      rides: behind.length,
      boards: boardsOf(behind).length,
      shows: behind.filter(({ purpose }) => purpose === 'show').length,
    },
    rideIndices: behind.map(({ index }) => index),
    verdict: verdictOf(chances, zones.chances),
    biggestLever: dogs === null ? null : leverOf(dogs, margins),
    since: form.since,
  }
}

/** Whether the dog's margin changed on a day, or drifts: a show asks for the dog as it is now. */
function formOf(rides: readonly SeasonRide[]): { readonly since: number | null; readonly drifts: boolean } {
  const series = seriesOf('leavingMarginS', rides)
  const trend = trendOf(series)
  if (trend.kind === 'too-few') return { since: null, drifts: false }
  const search = findChange(series, trend.tamed)
  if (search !== null && search.p < CHANGED) return { since: search.change.day, drifts: false }
  return { since: null, drifts: trend.p < CHANGED }
}

function tooFew(rides: number): Estimate {
  return withheld('too-few', `${rides} ${rides === 1 ? 'ride' : 'rides'}: too few to say anything about a show.`)
}

/** Mean, sd and 95 % interval of chances. */
function chanceEstimate(chances: readonly number[]): Measured {
  const mean = chances.reduce((sum, chance) => sum + chance, 0) / chances.length
  const variance = chances.reduce((sum, chance) => sum + (chance - mean) ** 2, 0) / chances.length
  return {
    kind: 'measured',
    value: mean,
    sd: Math.sqrt(variance),
    ci95: [quantile(chances, 0.025), quantile(chances, 0.975)],
  }
}

/**
 * Whether a touch of the down contact counts only once the board has landed.
 *
 * @param rules that the show is judged by
 * @returns false where the rule set does not say
 */
export function countsAfterLanding({ dog }: Pick<RuleSet, 'dog'>): boolean {
  return dog?.zones.says.downAfterLanding ?? false
}

function missedDown(rides: readonly SeasonRide[], { board, rules }: ShowQuestion) {
  const judged = rides.flatMap((ride) => {
    const verdict = countsAfterLanding(rules) ? afterGround(ride) : ride.downZone
    return verdict === null ? [] : [{ ride, verdict }]
  })
  const rideIndices = judged.map(({ ride }) => ride.index)
  const boards = boardsOf(judged.map(({ ride }) => ride))
  const names: readonly (string | null)[] = judged.some(({ ride }) => ride.board === null) ? [...boards, null] : boards
  const asked = board === null ? -1 : names.indexOf(board)
  const chancesIf = (unsureIs: 'out' | 'missed' | 'touched') => {
    const counts = names.map((name): BoardCount => {
      const here = judged.filter(({ ride }) => ride.board === name)
      const number = (verdict: string) => here.filter((one) => one.verdict === verdict).length
      const unsure = unsureIs === 'out' ? 0 : number('unsure')
      const missed = number('missed') + (unsureIs === 'missed' ? unsure : 0)
      return { missed, of: number('missed') + number('touched') + unsure }
    })
    return missedChances(counts, asked < 0 ? null : asked, seededRandom(judged.length))
  }
  const decided = judged.filter(({ verdict }) => verdict !== 'unsure').length
  if (decided < FEWEST_RIDES) return { rideIndices, chances: null, estimate: null }
  const chances = chancesIf('out')
  const estimate = chanceEstimate(chances)
  if (decided === judged.length) return { rideIndices, chances, estimate }
  const lo = quantile(chancesIf('touched'), 0.025)
  const hi = quantile(chancesIf('missed'), 0.975)
  return { rideIndices, chances, estimate: { ...estimate, ci95: [lo, hi] } satisfies Measured }
}

function afterGround({ downAfterGround, downZone }: SeasonRide): SeasonRide['downZone'] {
  if (downZone === 'missed' || downAfterGround === 'no') return 'missed'
  if (downAfterGround === null) return null
  return downAfterGround === 'yes' ? 'touched' : 'unsure'
}

function verdictOf(early: readonly number[] | null, missed: readonly number[] | null): ShowCheck['verdict'] {
  const known = [early, missed].filter((chances) => chances !== null)
  if (known.some((chances) => quantile(chances, 1 - RISK_SURE) > RISK_ABOVE)) return 'at-risk'
  const isFine = early !== null && known.every((chances) => quantile(chances, 0.975) < FINE_BELOW)
  return isFine ? 'likely-fine' : 'cannot-tell'
}

/** What a tenth of a second more, half the scatter, waiting for the landing, or no pops would do. */
function leverOf(dogs: readonly PossibleDog[], { usualFallAheadS }: ShowMargins): Lever | null {
  const meanOf = (change: (dog: PossibleDog) => PossibleDog) =>
    dogs.reduce((sum, dog) => sum + earlyChance(change(dog)), 0) / dogs.length
  const levers: readonly Lever[] = [
    { what: 'hold-longer', earlyChance: meanOf((dog) => ({ ...dog, marginS: dog.marginS + 0.1 })) },
    { what: 'steadier', earlyChance: meanOf((dog) => ({ ...dog, scatterS: dog.scatterS / 2 })) },
    {
      what: 'wait-for-landing',
      earlyChance: meanOf((dog) => ({ ...dog, marginS: dog.marginS + Math.max(0, dog.perFall * usualFallAheadS) })),
    },
    { what: 'no-pops', earlyChance: meanOf((dog) => ({ ...dog, popShare: 0 })) },
  ]
  const best = levers.reduce((a, b) => (b.earlyChance < a.earlyChance ? b : a))
  return meanOf((dog) => dog) - best.earlyChance < LEAST_GAIN ? null : best
}

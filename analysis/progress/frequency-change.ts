import { seededRandom } from '../numeric/random.ts'
import { believable } from './discoveries.ts'
import { haltQuestions, type Halt } from './halts.ts'
import { rateQuestions, type Question, type Rate } from './rates.ts'
import { measuredRides, type Season, type SeasonRide } from './season.ts'

/** How many rides of how many. */
export interface Share {
  readonly count: number
  readonly of: number
}

/** Whether something happens more or less often than at the start of a season. */
export interface FrequencyChange {
  readonly what: Rate['what'] | Halt['what']
  /** Rides on the first half of the days on which it was decided, and on the second. */
  readonly early: Share
  readonly late: Share
  /** How often a season in which nothing changes looks as changed as this, 0 to 1; null where there are too few days. */
  readonly p: number | null
  readonly verdict: 'more' | 'less' | 'unclear' | 'too-few'
  /** Places in the dog's list of the rides that count. */
  readonly restsOn: readonly number[]
}

/** Fewer days can be put in too few orders to tell a change from chance. */
const FEWEST_DAYS = 6
const SHUFFLES = 3999

/**
 * Whether early leaving, missed contacts, the criterion, pauses and turning back became more or less frequent.
 *
 * Days are put in other orders at random, each with all its rides (a permutation test in blocks: Good, Permutation
 * Tests, 2nd edition 2000), because rides of one day go together. What a board brings with it is taken out first, so
 * that a change of board is no change of the dog.
 *
 * @param season of one dog
 * @param falseAlarms the expected share of false ones among the changes that are called, over all that is counted
 * @returns all that a ride decides
 */
export function frequencyChanges(season: Pick<Season, 'rides' | 'criterion'>, falseAlarms: number): FrequencyChange[] {
  const all = [...rateQuestions(season.criterion), ...haltQuestions].flatMap((question) => seen(question, season.rides))
  // What always or never happens can show no change, and so raises no false alarm (Tarone, Biometrics 1990, 46:515).
  const tested = all.flatMap(({ p, early, late }, k) => {
    const count = early.count + late.count
    return p === null || count === 0 || count === early.of + late.of ? [] : [{ p, k }]
  })
  const called = believable(
    tested.map(({ p }) => p),
    falseAlarms,
  )
  const chosen = new Set(tested.flatMap(({ k }, i) => (called[i] ? [k] : [])))
  return all.map(({ slope, ...one }, k) => ({
    ...one,
    verdict: one.p === null ? 'too-few' : !chosen.has(k) ? 'unclear' : slope > 0 ? 'more' : 'less',
  }))
}

type Seen = Omit<FrequencyChange, 'verdict'> & { readonly slope: number }

function seen([what, judge]: Question<FrequencyChange['what']>, rides: readonly SeasonRide[]): Seen[] {
  const decided = measuredRides(rides).flatMap((ride) => {
    const verdict = judge(ride)
    return ride.day === null || (verdict !== 'yes' && verdict !== 'no')
      ? []
      : [{ ride, day: ride.day, happened: verdict === 'yes' }]
  })
  if (decided.length === 0) return []
  const days = [...new Set(decided.map(({ day }) => day))].sort((a, b) => a - b)
  const halfway = days[days.length >> 1]!
  const share = (part: typeof decided): Share => ({
    count: part.filter(({ happened }) => happened).length,
    of: part.length,
  })
  const boardShare = (board: string | null) => {
    const { count, of } = share(decided.filter((one) => one.ride.board === board))
    return count / of
  }
  // What a day had of it beyond what its boards as a rule have.
  const surplus = days.map((day) =>
    decided
      .filter((one) => one.day === day)
      .reduce((sum, { ride, happened }) => sum + (happened ? 1 : 0) - boardShare(ride.board), 0),
  )
  return [
    {
      what,
      early: share(decided.filter(({ day }) => day < halfway)),
      late: share(decided.filter(({ day }) => day >= halfway)),
      p: days.length < FEWEST_DAYS ? null : shuffledP(surplus),
      restsOn: decided.map(({ ride }) => ride.index),
      slope: alongOrder(surplus),
    },
  ]
}

/**
 * How often numbers in a random order rise or fall along it as much as in the given one.
 *
 * @param values in their order
 * @returns two-sided p, never 0
 */
export function shuffledP(values: readonly number[]): number {
  const asSeen = Math.abs(alongOrder(values)) - 1e-9
  const random = seededRandom(values.length)
  const order = [...values]
  let asMuch = 1
  for (let shuffle = 0; shuffle < SHUFFLES; shuffle++) {
    for (let k = order.length - 1; k > 0; k--) {
      const other = Math.floor(random.uniform() * (k + 1))
      const kept = order[k]!
      order[k] = order[other]!
      order[other] = kept
    }
    if (Math.abs(alongOrder(order)) >= asSeen) asMuch++
  }
  return asMuch / (SHUFFLES + 1)
}

/** Positive when the later values are the larger ones. */
function alongOrder(values: readonly number[]): number {
  const middle = (values.length - 1) / 2
  return values.reduce((sum, value, k) => sum + value * (k - middle), 0)
}

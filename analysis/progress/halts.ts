import { type Question, type Rate, rateOf, type Verdict } from './rates.ts'
import type { SeasonRide } from './season.ts'

/** How often a dog paused on the plank, or turned back on it. */
export type Halt = Rate<'paused' | 'turned-back'>

/**
 * How often a dog paused on the plank or turned back on it.
 *
 * @param rides of one dog; those on which its coming was not seen decide nothing unless it halted all the same
 * @returns both, each only where a ride tells of it
 */
export function haltsOf(rides: readonly SeasonRide[]): readonly Halt[] {
  return haltQuestions.map(([what, judge]) => rateOf(what, rides, judge)).filter(({ of }) => of > 0)
}

/** What is asked of each ride of a dog about halting. */
export const haltQuestions: readonly Question<Halt['what']>[] = [
  ['paused', (ride) => halted(ride, ride.paused)],
  ['turned-back', (ride) => halted(ride, ride.turnedBack)],
]

/** Nothing seen is no halt only where the dog was seen from its coming on. */
function halted({ events }: SeasonRide, happened: boolean | undefined): Verdict {
  if (happened === true) return 'yes'
  return happened === false && events['firstOn']?.kind === 'measured' ? 'no' : 'unknown'
}

const WORDS: Readonly<Record<Halt['what'], string>> = {
  paused: 'Paused on the plank',
  'turned-back': 'Turned back on the plank',
}

/**
 * A halt by its name.
 *
 * @param halt of a dog
 * @returns "Paused on the plank"
 */
export function haltName({ what }: Pick<Halt, 'what'>): string {
  return WORDS[what]
}

/**
 * All halts as one sentence each.
 *
 * @param halts of a dog
 * @returns ["Paused on the plank on 3 of 20 rides (5 to 36 % in the long run)."]
 */
export function haltsInWords(halts: readonly Halt[]): readonly string[] {
  return halts.map(({ what, count, of, ci95: [lo, hi] }) => {
    const [from, to] = [Math.round(100 * lo), Math.round(100 * hi)]
    return `${WORDS[what]} on ${count} of ${of} ${of === 1 ? 'ride' : 'rides'} (${from} to ${to} % in the long run).`
  })
}

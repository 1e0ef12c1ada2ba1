import { isMeasured, quantityInWords } from '../words/in-words.ts'
import { MEASURES } from './measure-words.ts'
import type { Rate } from './rates.ts'
import type { DogReport, MeasureTrend } from './report-parts.ts'
import { dayInWords } from './sentences.ts'

/** Half of a common plank, m: places are told from its pivot. */
const HALF_PLANK_M = 1.83
const FROM_PIVOT = ['leadPawAtTipM', 'bodyAtTipM']

/** The measures of which a season has a figure, in the order in which they are drawn. */
export const DRAWN_MEASURES = [
  'holdBeforeGroundS',
  'leavingMarginS',
  'leadPawAtTipM',
  'climbSpeedMps',
  'entrySpeedMps',
  'dropTimeS',
] as const

export const SEASON_CAUTIONS: readonly string[] = [
  'These are measurements of films, not rulings: judges, coaches and the rule book decide.',
  'A dog that slows down, hesitates or jumps off may be sore or frightened: ask your vet, and go back to a lower board.',
  'Intervals hold the true value about 19 times in 20; as several measures are checked at once, chance is allowed for.',
]

export const RATE_WORDS: Readonly<Record<Rate['what'], string>> = {
  early: 'Left early',
  'up-missed': 'Up contact missed',
  'down-missed': 'Down contact missed',
  'criterion-met': 'Criterion met',
}

/**
 * What is taken off a measure's values before they are shown.
 *
 * @param measure its name in ride files
 * @returns half a plank for places, which are told from the pivot, else 0; in the measure's unit
 */
export function shiftOf(measure: string): number {
  return FROM_PIVOT.includes(measure) ? HALF_PLANK_M : 0
}

/**
 * The heading of a measure's figure.
 *
 * @param measure its name in ride files
 * @returns "Lead paw at the tip, from the pivot of a 3.66 m plank"
 */
export function figureName(measure: string): string {
  return `${MEASURES[measure]!.name}${shiftOf(measure) === 0 ? '' : ', from the pivot of a 3.66 m plank'}`
}

/**
 * Whether a dog waits or counts, with the number behind it.
 *
 * @param report of the dog
 * @returns a sentence or two
 */
export function clockInWords({ waitsOrCounts, dog }: Pick<DogReport, 'waitsOrCounts' | 'dog'>): string {
  const { slope, verdict } = waitsOrCounts
  if (!isMeasured(slope)) return slope.kind === 'withheld' ? slope.detail : ''
  const between = `between ${slope.ci95[0].toFixed(2)} and ${slope.ci95[1].toFixed(2)}`
  const open = verdict === 'too-few' ? ' These rides do not tell them apart yet.' : ''
  return `Slope ${slope.value.toFixed(2)} (${between}): 1 means that ${dog} waits for the landing, 0 that it leaves by its own clock.${open}`
}

/**
 * How one measure went over the season.
 *
 * @param trend of the measure
 * @returns "Steady: 0.01 s a month, between ..."
 */
export function trendInWords({ measure, perMonth, verdict, change }: MeasureTrend): string {
  if (!isMeasured(perMonth)) return perMonth.kind === 'withheld' ? perMonth.detail : ''
  const { unit } = MEASURES[measure]!
  const fine = { ...unit, decimals: unit.decimals + 1 }
  const range = `${quantityInWords(perMonth.value, fine)} a month, between ${quantityInWords(perMonth.ci95[0], fine)} and ${quantityInWords(perMonth.ci95[1], fine)}`
  const since =
    change === null ? '' : ` Changed between ${dayInWords(change.ci95[0])} and ${dayInWords(change.ci95[1])}.`
  const word = { unclear: 'Not clear: ', steady: 'Steady: ' }[verdict as string] ?? ''
  return `${word}${range}.${since}`
}

/**
 * What a report without a finding says.
 *
 * @param report of the dog
 * @returns a sentence or two
 */
export function nothingInWords({ note, rides }: Pick<DogReport, 'note' | 'rides'>): string {
  if (note !== null) return note
  return rides === 1 ? 'One ride says little: film more on the same board.' : `Nothing stands out in ${rides} rides.`
}

import { fixed, isMeasured, quantityInWords } from '../words/in-words.ts'
import { frequencySentence } from './frequency-words.ts'
import { MEASURES, type MeasureWords } from './measure-words.ts'
import { leftEarly, type Rate } from './rates.ts'
import type { DogReport, MeasureTrend, Sentence } from './report-parts.ts'
import type { Season } from './season.ts'

const MOST = 5

/**
 * What a dog's season says in plain words, the most telling first.
 *
 * @param report its numbers
 * @param season its rides
 * @returns at most five; none when there is nothing to say
 */
export function sentencesFor(
  report: Pick<DogReport, 'dog' | 'trends' | 'rates' | 'frequencies' | 'waitsOrCounts'>,
  season: Pick<Season, 'rides'>,
): Sentence[] {
  const { dog } = report
  const rate = (what: Rate['what']) => report.rates.find((one) => one.what === what)
  const own = report.trends.filter(({ measure }) => !MEASURES[measure]!.ofBoard)
  const changes = own.filter(matters).filter(isNoTwin)
  const moves = changes.map((trend) => moveSentence(dog, trend))
  return [
    earlySentence(dog, rate('early'), season),
    ...report.frequencies.map((change) => {
      const text = frequencySentence(dog, change)
      return text === null ? null : { text, about: change.what, restsOn: change.restsOn }
    }),
    ...moves.slice(0, 3),
    clockSentence(dog, report),
    missedSentence(dog, rate('down-missed'), 'down contact'),
    missedSentence(dog, rate('up-missed'), 'up contact'),
    criterionSentence(dog, rate('criterion-met')),
    ...moves.slice(3),
  ]
    .filter((sentence) => sentence !== null)
    .slice(0, MOST)
}

/** A trend or a change that is believed, and large enough over the season to be worth a word. */
function matters({ measure, verdict, perMonth, months, change }: MeasureTrend): boolean {
  const { smallestChange } = MEASURES[measure]!
  if (change !== null) return Math.abs(change.after.value - change.before.value) >= smallestChange / 2
  const isMoving = verdict === 'rising' || verdict === 'falling'
  return isMoving && isMeasured(perMonth) && Math.abs(perMonth.value * months) >= smallestChange / 2
}

/** Staying after the landing and leaving, body and lead paw, move together: one of them is enough. */
function isNoTwin(trend: MeasureTrend, _: number, all: readonly MeasureTrend[]): boolean {
  const twin = { stayAfterGroundS: 'leavingMarginS', bodyAtTipM: 'leadPawAtTipM' }[trend.measure]
  return !all.some(({ measure }) => measure === twin)
}

function moveSentence(dog: string, { measure, perMonth, change, restsOn, months }: MeasureTrend): Sentence {
  const words = MEASURES[measure]!
  if (change !== null) {
    const { before, after } = change
    const how = after.value > before.value ? words.rising : words.falling
    const from = `${dayInWords(change.day)} (between ${dayInWords(change.ci95[0])} and ${dayInWords(change.ci95[1])})`
    const figures = sidesInWords(before.value, after.value, words)
    return { text: `Since ${from} ${dog} ${how}: ${figures}.`, about: measure, restsOn }
  }
  const slope = isMeasured(perMonth) ? perMonth : { value: 0, ci95: [0, 0] as const }
  const how = slope.value > 0 ? words.rising : words.falling
  const size = (value: number) => quantityInWords(Math.abs(value), words.unit)
  const ends = [size(slope.ci95[0]), size(slope.ci95[1])]
  if (slope.value < 0) ends.reverse()
  const range = `between ${ends[0]} and ${ends[1]}`
  const over = `over ${Math.max(1, Math.round(months))} ${Math.round(months) <= 1 ? 'month' : 'months'}`
  return { text: `${dog} ${how}, by ${size(slope.value)} a month (${range}) ${over}.`, about: measure, restsOn }
}

/** Places are told by how far they moved, as their origin says little; everything else by what it was and is. */
function sidesInWords(before: number, after: number, { unit }: MeasureWords): string {
  if (unit.sign === 'cm') return `by ${quantityInWords(Math.abs(after - before), unit)}`
  return `${quantityInWords(after, unit)} rather than ${quantityInWords(before, unit)}`
}

function earlySentence(dog: string, rate: Rate | undefined, { rides }: Pick<Season, 'rides'>): Sentence | null {
  if (rate === undefined || rate.count === 0) return null
  const early = rides.filter((ride) => !ride.byHand && leftEarly(ride) === 'yes')
  const boards = new Map<string, number>()
  for (const { board } of early) if (board !== null) boards.set(board, (boards.get(board) ?? 0) + 1)
  const [most] = [...boards].sort(([, m], [, n]) => n - m)
  const allBoards = new Set(rides.flatMap(({ board, byHand }) => (byHand ? [] : (board ?? [])))).size
  const where =
    most === undefined || allBoards < 2 || most[1] < 3 || most[1] < 0.6 * rate.count
      ? ''
      : `, ${most[1] === rate.count ? 'all' : most[1]} of them on ${most[0]}`
  return { text: `${dog} left early on ${shareInWords(rate)}${where}.`, about: rate.what, restsOn: rate.restsOn }
}

function missedSentence(dog: string, rate: Rate | undefined, zone: string): Sentence | null {
  if (rate === undefined || rate.count === 0) return null
  return { text: `${dog} missed the ${zone} on ${shareInWords(rate)}.`, about: rate.what, restsOn: rate.restsOn }
}

function criterionSentence(dog: string, rate: Rate | undefined): Sentence | null {
  if (rate === undefined || rate.of === 0) return null
  return { text: `${dog} met its criterion on ${shareInWords(rate)}.`, about: rate.what, restsOn: rate.restsOn }
}

function shareInWords({ count, of, ci95 }: Rate): string {
  const percent = (share: number) => Math.round(100 * share)
  return `${count} of ${of} ${of === 1 ? 'ride' : 'rides'} (in the long run between ${percent(ci95[0])} and ${percent(ci95[1])} %)`
}

function clockSentence(dog: string, { waitsOrCounts }: Pick<DogReport, 'waitsOrCounts'>): Sentence | null {
  const { slope, verdict, restsOn } = waitsOrCounts
  if (!isMeasured(slope)) return null
  const tenthOf = (value: number) => fixed(value / 10, 2)
  const later = `when the board lands 0.10 s later, it leaves ${tenthOf(slope.value)} s later`
  const range = `(between ${tenthOf(slope.ci95[0])} and ${tenthOf(slope.ci95[1])} s)`
  switch (verdict) {
    case 'waits':
      return { text: `${dog} waits for the landing: ${later} ${range}.`, about: 'clock', restsOn }
    case 'counts':
      return { text: `${dog} leaves by its own clock, not by the landing: ${later} ${range}.`, about: 'clock', restsOn }
    case 'between':
      return { text: `${dog} waits for the landing in part: ${later} ${range}.`, about: 'clock', restsOn }
    case 'too-few':
      return null
  }
}

const MONTHS = [
  'January',
  'February',
  'March',
  'April',
  'May',
  'June',
  'July',
  'August',
  'September',
  'October',
  'November',
  'December',
]

/**
 * A calendar day as it is said.
 *
 * @param day as in `2026-05-14`
 * @returns "14 May"
 */
export function dayInWords(day: string): string {
  return `${Number(day.slice(8, 10))} ${MONTHS[Number(day.slice(5, 7)) - 1] ?? ''}`
}

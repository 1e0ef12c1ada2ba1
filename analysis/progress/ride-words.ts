import { fixed } from '../words/in-words.ts'
import { dayText, type SeasonRide } from './season.ts'
import { dayInWords } from './sentences.ts'

/**
 * A ride of a season in one line: when, where, and how it ended.
 *
 * @param ride of one dog
 * @returns "12 June, Club board, show: left 0.35 s ± 0.03 after the landing, missed the down contact"
 */
export function rideInWords(ride: SeasonRide): string {
  const where = [rideName(ride), ...(ride.byHand ? ['entered by hand'] : [])]
  const how = [
    leavingInWords(ride),
    ...(ride.upZone === 'missed' ? ['missed the up contact'] : []),
    ...(ride.downZone === 'missed' ? ['missed the down contact'] : []),
  ]
  return `${where.join(', ')}: ${how.join(', ')}`
}

/**
 * When and where a ride was.
 *
 * @param ride of one dog
 * @returns "12 June, Club board, show"
 */
export function rideName({ day, board, purpose }: Pick<SeasonRide, 'day' | 'board' | 'purpose'>): string {
  return [
    day === null ? 'day not known' : dayInWords(dayText(day)),
    board ?? 'board not known',
    ...(purpose === 'show' ? ['show'] : []),
  ].join(', ')
}

function leavingInWords({ leaving, measures: { leavingMarginS: margin } }: SeasonRide): string {
  if (margin?.kind === 'measured') {
    const half = (margin.ci95[1] - margin.ci95[0]) / 2
    const side = margin.value < 0 ? 'before' : 'after'
    return `left ${fixed(Math.abs(margin.value), 2)} s ± ${fixed(half, 2)} ${side} the landing`
  }
  if (margin?.kind === 'atLeast') return `still on ${fixed(margin.value, 2)} s after the landing, where the clip ends`
  switch (leaving) {
    case 'before-ground':
      return 'left before the landing'
    case 'before-tip':
      return 'left before the tip'
    case 'after-ground':
      return 'left after the landing'
    case 'too-close':
      return 'left too close to the landing to call'
    case 'not-seen':
    case null:
      return 'leaving not seen'
  }
}

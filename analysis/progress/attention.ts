import { fixed } from '../words/in-words.ts'
import { believable } from './discoveries.ts'
import { MEASURES } from './measure-words.ts'
import { ratesOf, type Rate } from './rates.ts'
import { dayText, measuredRides, type Season, type SeasonRide } from './season.ts'
import { dayInWords } from './sentences.ts'
import { seriesOf } from './series.ts'
import { trendOf } from './trend.ts'

/** How much a coach should look at a dog, by evidence: `look` is sure enough to act on, `may-be` is not. */
export type Need = 'look' | 'may-be' | 'fine' | 'too-few'

export interface Attention {
  readonly dog: string
  readonly need: Need
  /** Sentences with the numbers behind them, the strongest first. */
  readonly reasons: readonly string[]
  /** The part of all rides that counts. */
  readonly rides: number
  readonly since: number | null
  readonly lastDay: number | null
  /** Left early among the rides that count; null where none tells. */
  readonly early: Rate | null
  readonly downMissed: Rate | null
}

/** The rides that count: the newest ones. Common practice; chosen by us. */
const NEWEST = 20
/** A share of rides that is too many: surely above is worth a look, surely below is fine. Ours; no source. */
const TOO_MANY = 0.1
const FINE_BELOW = 0.3
const FEWEST = 5
/** Trends of all dogs together: how often one is believed where nothing happened. */
const FALSE_ALARMS = 0.05

/**
 * Which dogs need their coach most, by what is known of them and not by how it was last.
 *
 * @param seasons one for each dog; leaving margin and zones of their rides are enough
 * @returns the most needing first
 */
export function attentionOf(seasons: readonly Season[]): Attention[] {
  const recent = seasons.map(({ rides }) => newest(rides))
  const trends = seasons.map(({ rides }) => trendOf(seriesOf('leavingMarginS', rides)))
  const believed = believable(
    trends.map((trend) => (trend.kind === 'line' ? trend.p : 1)),
    FALSE_ALARMS,
  )
  const all = seasons.map((season, k): Attention => {
    const rides = recent[k]!
    const rates = ratesOf({ rides, criterion: null })
    const early = rates.find(({ what }) => what === 'early') ?? null
    const downMissed = rates.find(({ what }) => what === 'down-missed') ?? null
    const trend = trends[k]!
    const falls = trend.kind === 'line' && believed[k] === true && trend.perMonth.value < 0 ? trend : null
    const isWorse = falls !== null && -falls.perMonth.value * falls.months >= MEASURES['leavingMarginS']!.smallestChange
    const days = rides.flatMap(({ day }) => day ?? [])
    const sure = [early, downMissed].filter((rate) => rate !== null && rate.of >= FEWEST && rate.ci95[0] > TOO_MANY)
    const open = [early, downMissed].filter((rate) => rate !== null && rate.ci95[1] > FINE_BELOW)
    const some = [early, downMissed].filter((rate) => rate !== null && rate.count > 0)
    const isKnown = (early?.of ?? 0) >= FEWEST
    return {
      dog: season.dog,
      need:
        sure.length > 0 || isWorse
          ? 'look'
          : open.length > 0 && some.length > 0
            ? 'may-be'
            : isKnown
              ? 'fine'
              : 'too-few',
      reasons: [
        ...(isWorse
          ? [
              `It leaves sooner from month to month, by ${fixed(-falls.perMonth.value, 2)} s (between ${fixed(-falls.perMonth.ci95[1], 2)} and ${fixed(-falls.perMonth.ci95[0], 2)} s).`,
            ]
          : []),
        ...rateReason('left early', early),
        ...rateReason('missed the down contact', downMissed),
      ],
      rides: rides.length,
      since: days.length === 0 ? null : Math.min(...days),
      lastDay: days.length === 0 ? null : Math.max(...days),
      early,
      downMissed,
    }
  })
  const order: readonly Need[] = ['look', 'may-be', 'fine', 'too-few']
  const surest = ({ early, downMissed }: Attention) => Math.max(early?.ci95[0] ?? 0, downMissed?.ci95[0] ?? 0)
  return all.toSorted(
    (a, b) => order.indexOf(a.need) - order.indexOf(b.need) || surest(b) - surest(a) || (a.dog < b.dog ? -1 : 1),
  )
}

/** Filmed rides, the newest by day; those without a day only where there are no others. */
function newest(rides: readonly SeasonRide[]): SeasonRide[] {
  const filmed = measuredRides(rides)
  const dated = filmed.filter(({ day }) => day !== null).sort((a, b) => b.day! - a.day! || b.index - a.index)
  return (dated.length === 0 ? filmed : dated).slice(0, NEWEST)
}

function rateReason(what: string, rate: Rate | null): string[] {
  if (rate === null || rate.of === 0) return []
  const percent = (share: number) => Math.round(100 * share)
  return [
    `It ${what} on ${rate.count} of ${rate.of} ${rate.of === 1 ? 'ride' : 'rides'} (${percent(rate.ci95[0])} to ${percent(rate.ci95[1])} % in the long run).`,
  ]
}

/**
 * Since when the rides that count were ridden.
 *
 * @param attention of one dog
 * @returns "20 rides since 3 May 2026"; without a day, the count alone
 */
export function basisInWords({ rides, since }: Pick<Attention, 'rides' | 'since'>): string {
  const count = `${rides} ${rides === 1 ? 'ride' : 'rides'}`
  return since === null ? count : `${count} since ${dayInWords(dayText(since))}`
}

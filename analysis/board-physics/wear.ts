import { type Estimate, type Measured, withheld } from '../estimate.ts'
import type { Series } from '../progress/series.ts'
import { trendOf } from '../progress/trend.ts'
import { isAlike, type TimedDrop } from './repeated-drops.ts'

/** What is followed over a board's months. */
export type WearMeasure = 'fallFromReleasedS' | 'bounceM'

/** A drop test with its day. */
export interface DatedDrop extends TimedDrop {
  /** Days since 1970-01-01; null or absent: not known. */
  readonly day?: number | null
  readonly bounceM?: Estimate | null
}

/** One measure of a board over its drop tests. */
export interface BoardWear {
  readonly measure: WearMeasure
  readonly massKg: number
  readonly massAtM: number
  /** In order of their days. */
  readonly points: readonly { readonly day: number; readonly value: number; readonly sd: number }[]
  /** Drift in a month, in the measure's unit; withheld `too-few` where the tests do not suffice. */
  readonly perMonth: Estimate
  /** True only where no drift at all would be unlikely, both measures taken together. */
  readonly drifts: boolean
}

const MEASURES: readonly WearMeasure[] = ['fallFromReleasedS', 'bounceM']
/** Both measures together raise a false alarm this often (ours: one board in twenty). */
const FALSE_ALARMS = 0.05

/**
 * A board's history: fall and bounce of drops with one weight at one place against their days, each with its drift.
 *
 * Drops of rides are left out: dogs differ more than boards do. The fall runs from letting go, because hands differ.
 *
 * @param drops of one board; those without a day are left out
 * @returns the measures that were taken on at least two days, with the weight that was used most
 */
export function boardWear(drops: readonly DatedDrop[]): readonly BoardWear[] {
  const dated = mostUsed(drops.filter((drop) => drop.day !== null && drop.day !== undefined))
  return MEASURES.flatMap((measure) => wearOf(measure, dated) ?? [])
}

function wearOf(measure: WearMeasure, dated: readonly DatedDrop[]): BoardWear | null {
  const points = dated
    .flatMap((drop) => {
      const estimate = drop[measure]
      return estimate?.kind === 'measured' ? [{ day: drop.day!, value: estimate.value, sd: estimate.sd }] : []
    })
    .sort((a, b) => a.day - b.day)
  const days = [...new Set(points.map(({ day }) => day))]
  if (days.length < 2) return null
  const { massKg, massAtM } = dated[0]!
  const trend = trendOf(seriesOfPoints(measure, points, days))
  if (trend.kind === 'too-few') return { measure, massKg, massAtM, points, perMonth: TOO_FEW, drifts: false }
  const { perMonth, p } = trend
  const drifts = p < FALSE_ALARMS / MEASURES.length && excludesNone(perMonth)
  return { measure, massKg, massAtM, points, perMonth, drifts }
}

const TOO_FEW = withheld('too-few', 'From six drops on four days on, a drift can be told.')

function excludesNone({ ci95: [low, high] }: Measured): boolean {
  return low > 0 || high < 0
}

function mostUsed(drops: readonly DatedDrop[]): readonly DatedDrop[] {
  const groups = drops.map((drop) => drops.filter((other) => isAlike(drop, other)))
  return groups.reduce((most, group) => (group.length > most.length ? group : most), [])
}

function seriesOfPoints(measure: WearMeasure, points: BoardWear['points'], days: readonly number[]): Series {
  return {
    measure,
    rideIndex: points.map((_, k) => k),
    day: points.map(({ day }) => day),
    dayIndex: points.map(({ day }) => days.indexOf(day)),
    value: points.map(({ value }) => value),
    sd: points.map(({ sd }) => sd),
    isBound: points.map(() => false),
    boardIndex: points.map(() => 0),
    boardCount: 1,
  }
}

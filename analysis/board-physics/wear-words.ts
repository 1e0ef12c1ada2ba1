import { fixed } from '../words/in-words.ts'
import { type DisplayUnit, siDisplay } from '../words/units.ts'
import type { BoardWear, WearMeasure } from './wear.ts'

/** How a measure of wear is shown. */
export const WEAR_WORDS: Readonly<
  Record<
    WearMeasure,
    { readonly name: string; readonly more: string; readonly less: string; readonly unit: DisplayUnit }
  >
> = {
  fallFromReleasedS: {
    name: 'Fall from letting go',
    more: 'takes longer',
    less: 'takes less long',
    unit: siDisplay('s', 2),
  },
  bounceM: {
    name: 'Springs back',
    more: 'springs back higher',
    less: 'springs back less high',
    unit: { perSi: 1000, sign: 'mm', decimals: 0 },
  },
}

/**
 * What a board's drop tests say of its wear.
 *
 * @param wear one measure over the tests
 * @returns a sentence: how it drifts in a month with its 95 % interval, that none is seen, or what is missing
 */
export function wearSentence({ measure, massKg, points, perMonth, drifts }: BoardWear): string {
  const { name, more, less, unit } = WEAR_WORDS[measure]
  const days = new Set(points.map(({ day }) => day)).size
  const from = `${points.length} drops with ${fixed(massKg, 2)} kg on ${days} days`
  if (perMonth.kind !== 'measured') return `${name}, ${from}: too few to tell a drift. It takes six drops on four days.`
  const shown = (value: number) => fixed(value * unit.perSi, unit.decimals + 1)
  const [low, high] = perMonth.ci95
  const interval = `${shown(low)} to ${shown(high)} ${unit.sign} a month`
  if (!drifts) return `${name}, ${from}: no drift seen (${interval}).`
  const size = `${shown(Math.abs(perMonth.value))} ${unit.sign} a month`
  return `The board ${perMonth.value > 0 ? more : less}, by ${size} (${interval}; ${from}): look at axle, plank and base.`
}

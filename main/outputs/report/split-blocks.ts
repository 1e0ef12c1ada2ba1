import { MEASURES } from '../../../analysis/progress/measure-words.ts'
import type { Rate } from '../../../analysis/progress/rates.ts'
import { figureName, RATE_WORDS, shiftOf } from '../../../analysis/progress/report-words.ts'
import type { Split, SplitBy, SplitGroup } from '../../../analysis/progress/split.ts'
import { isMeasured, quantityInWords } from '../../../analysis/words/in-words.ts'
import type { Block } from './report-page.ts'

/** Boards have a part of the report of their own. */
const WORDS: Readonly<Record<Exclude<SplitBy, 'board'>, string>> = {
  material: 'By what the board is made of',
  feel: 'By feel of the board',
  surface: 'By ground',
  purpose: 'Training or show',
}
const RATES = ['early', 'down-missed'] as const
const MEASURE = 'leavingMarginS'

/** A season told apart by material, feel, ground, and training or show: a line for each group of rides. */
export function splitBlocks(splits: readonly Split[]): readonly Block[] {
  return splits.flatMap(({ by, groups }): readonly Block[] => {
    if (by === 'board') return []
    const head = [WORDS[by], 'Filmed rides', ...RATES.map((what) => RATE_WORDS[what]), figureName(MEASURE)]
    const rows = groups.map((group) => [
      group.name,
      String(group.rides),
      ...RATES.map((what) => rateInWords(group.rates.find((rate) => rate.what === what))),
      levelInWords(group),
    ])
    return [{ kind: 'table', head, rows }]
  })
}

function rateInWords(rate: Rate | undefined): string {
  if (rate === undefined || rate.of === 0) return 'not known'
  const [lo, hi] = rate.ci95.map((share) => Math.round(100 * share))
  return `${rate.count} of ${rate.of} (${lo} to ${hi} %)`
}

function levelInWords({ levels }: SplitGroup): string {
  const level = levels.find(({ measure }) => measure === MEASURE)?.level
  if (level === undefined || !isMeasured(level)) return 'too few rides'
  const words = (value: number) => quantityInWords(value - shiftOf(MEASURE), MEASURES[MEASURE]!.unit)
  return `${words(level.value)} (${words(level.ci95[0])} to ${words(level.ci95[1])})`
}

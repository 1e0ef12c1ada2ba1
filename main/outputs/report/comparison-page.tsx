import type { Comparison } from '../../../analysis/progress/compare.ts'
import {
  COMPARE_CAUTIONS,
  comparedInWords,
  differenceInWords,
  sideInWords,
} from '../../../analysis/progress/compare-words.ts'
import { SEASON_CAUTIONS } from '../../../analysis/progress/report-words.ts'
import { programVersion } from '../../program-version.ts'
import type { Block, ReportPage } from './report-page.ts'

/** Two dogs or boards side by side, as a page. */
export function comparisonPage({ sides, rates, measures, caution }: Comparison): ReportPage {
  const [one, other] = sides
  const rows = [...rates, ...measures].map((difference) => {
    const { value, interval, verdict } = differenceInWords(difference)
    const told = value === '' ? interval : `${value} (${interval})`
    const { what } = difference
    return [comparedInWords(what), sideInWords(one, what), sideInWords(other, what), told, verdict]
  })
  const counted = (rides: number): string => (rides === 1 ? '1 filmed ride' : `${rides} filmed rides`)
  return {
    title: `${one.name} beside ${other.name}`,
    blocks: [
      ...(rows.length === 0 ? [text('There is nothing yet that was measured on both sides.', 'plain')] : []),
      ...(caution === null ? [] : [text(caution, 'plain')]),
      ...(rows.length === 0
        ? []
        : [
            {
              kind: 'table',
              head: [
                '',
                `${one.name}, ${counted(one.rides)}`,
                `${other.name}, ${counted(other.rides)}`,
                'Difference',
                '',
              ],
              rows,
            } as const,
          ]),
      { kind: 'list', items: [...COMPARE_CAUTIONS, SEASON_CAUTIONS[0]!], tone: 'soft' },
    ],
    foot: [`Tiphold ${programVersion}. All numbers: compare.json and compare.csv.`],
  }
}

function text(words: string, tone: 'plain' | 'soft'): Block {
  return { kind: 'text', text: words, tone }
}

import type { Estimate } from '../../../analysis/estimate.ts'
import { rideInWords } from '../../../analysis/progress/ride-words.ts'
import { boardsOf, type Season } from '../../../analysis/progress/season.ts'
import type { ShowCheck, ShowQuestion } from '../../../analysis/progress/show-check.ts'
import { askedBoard, percent, showAnswer, SHOW_VERDICTS } from '../../../analysis/progress/show-words.ts'
import { IntervalBar } from '../../../renderer/figures/interval-bar.tsx'
import { SeasonLine } from '../../../renderer/figures/season-line.tsx'
import { VerdictShape } from '../../../renderer/figures/verdict-shape.tsx'
import { programVersion } from '../../program-version.ts'
import { boardLegend, SEASON_LINE_WORDS } from './dog-page.tsx'
import { cautionsSection, figureBlock, sectionOf } from './page-blocks.tsx'
import type { Block, Card, ReportPage } from './report-page.ts'

const SHAPES = { 'likely-fine': 'sure', 'at-risk': 'against', 'cannot-tell': 'open' } as const

/**
 * A show check as a page: the chances first, then what they rest on, ride by ride.
 *
 * @param season of the dog that is asked about
 * @param remarks on where the rides come from, above everything else
 */
export function showPage(
  check: ShowCheck,
  question: ShowQuestion,
  season: Season,
  remarks: readonly string[] = [],
): ReportPage {
  const { sentences, cautions } = showAnswer(season.dog, check, question)
  const rides = check.rideIndices.flatMap((index) => season.rides[index] ?? [])
  const boards = boardsOf(rides)
  const dated = rides.filter(({ day }) => day !== null)
  const newestFirst = rides.toSorted((a, b) => (b.day ?? -1) - (a.day ?? -1) || b.index - a.index)
  return {
    title: `Show check: ${season.dog} on ${askedBoard(question)}`,
    blocks: [
      ...remarks.map((text): Block => ({ kind: 'text', text, tone: 'soft' })),
      { kind: 'text', tone: 'soft', text: `Rules: ${question.rules.name}` },
      {
        kind: 'cards',
        cards: [
          {
            title: 'At the show',
            shape: <VerdictShape shape={SHAPES[check.verdict]} />,
            word: SHOW_VERDICTS[check.verdict],
            scale: null,
            text: '',
          },
          chanceCard('Leaves early', check.earlyChance),
          chanceCard('Misses the down contact', check.missedDownChance),
        ],
      },
      ...sentences.map((text): Block => ({ kind: 'text', text, tone: 'plain' })),
      cautionsSection(cautions),
      ...sectionOf(
        'The rides it rests on',
        rides.length === 0
          ? []
          : [
              ...(dated.length === 0
                ? []
                : [
                    boardLegend(boards),
                    figureBlock(<SeasonLine rides={rides} boards={boards} />),
                    { kind: 'text', tone: 'soft', text: SEASON_LINE_WORDS } as const,
                  ]),
              { kind: 'list', items: newestFirst.map(rideInWords), tone: 'plain' },
            ],
      ),
    ],
    foot: [`Tiphold ${programVersion}. All numbers: showcheck.json and showcheck.csv.`],
  }
}

/** A chance on a scale from 0 to 100 %, or why it is not told. */
function chanceCard(title: string, chance: Estimate): Card {
  if (chance.kind !== 'measured') {
    const text = chance.kind === 'withheld' ? chance.detail : ''
    return { title, shape: null, word: 'not told', scale: null, text }
  }
  const [lo, hi] = chance.ci95
  return {
    title,
    shape: null,
    word: `about ${percent(chance.value)}`,
    scale: <IntervalBar value={chance.value} ci95={chance.ci95} domain={[0, 1]} />,
    text: `Between ${percent(lo)} and ${percent(hi)}, on a scale from 0 to 100 %.`,
  }
}

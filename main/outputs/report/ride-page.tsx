import type { ReviewItem } from '../../../analysis/review/review-item.ts'
import { reviewLines } from '../../../analysis/review/review-words.ts'
import type { Ride } from '../../../analysis/ride/ride.ts'
import { answersOf } from '../../../analysis/words/answers.ts'
import { fixed, placeInWords, PLUS_MINUS } from '../../../analysis/words/in-words.ts'
import { numberRows } from '../../../analysis/words/number-rows.ts'
import { RIDE_CAUTIONS } from '../../../analysis/words/ride-cautions.ts'
import { leavingFirst, type VerdictCard, verdictCards } from '../../../analysis/words/verdict-cards.ts'
import { withheldGroups } from '../../../analysis/words/withheld-list.ts'
import { CHART_SIGNS } from '../../../renderer/figures/chart-legend.tsx'
import { RideChart } from '../../../renderer/figures/ride-chart.tsx'
import { TipDrawing } from '../../../renderer/figures/tip-drawing.tsx'
import { VerdictScale } from '../../../renderer/figures/verdict-scale.tsx'
import { VerdictShape } from '../../../renderer/figures/verdict-shape.tsx'
import type { ShownRide } from '../../measuring/measured-ride.ts'
import {
  answerBlock,
  cautionsSection,
  clipFacts,
  figureBlock,
  notesSection,
  numbersBlock,
  stillBlock,
  stillRows,
  withheldSection,
} from './page-blocks.tsx'
import type { Block, Card, ReportPage } from './report-page.ts'
import type { Still } from './take-stills.ts'

/** What people said of a ride. */
export interface RideWords {
  readonly title?: string
  readonly review?: readonly ReviewItem[]
}

/** The report of one ride: what a handler asks first, then what it was measured from. */
export function ridePage({ ride, picture }: ShownRide, stills: readonly Still[], said: RideWords = {}): ReportPage {
  const { board, calibration } = picture
  const [firstStill, ...furtherStills] = stills
  const { leadPawAtTipM, bodyAtTipM } = ride.measures
  const tip: readonly Block[] =
    leadPawAtTipM.kind !== 'measured'
      ? []
      : [
          figureBlock(
            <TipDrawing
              board={board}
              pose={calibration.best}
              leadPawM={leadPawAtTipM}
              bodyM={bodyAtTipM}
              size="full"
            />,
          ),
        ]
  return {
    title: said.title ?? `Ride in ${ride.clip.fileName}`,
    blocks: [
      {
        kind: 'columns',
        columns: [
          { share: 5, blocks: answersOf(ride, board.lengthM).map(answerBlock) },
          { share: 6, blocks: [...(firstStill === undefined ? [] : [stillBlock(firstStill)]), ...tip] },
        ],
      },
      { kind: 'cards', cards: leavingFirst(verdictCards(ride)).map((card) => verdictCard(card, board.contactM)) },
      {
        kind: 'section',
        title: 'The ride along the plank',
        blocks: [
          { kind: 'legend', signs: CHART_SIGNS },
          figureBlock(<RideChart ride={ride} board={board} sound={picture.sound} />),
          ...stops(ride, board.lengthM),
        ],
      },
      ...stillRows(furtherStills),
      ...reviewSection(said.review ?? []),
      ...withheldSection(withheldGroups(ride)),
      ...notesSection(ride.notes),
      {
        kind: 'section',
        title: 'All numbers',
        blocks: [
          numbersBlock(numberRows(ride, board.lengthM)),
          {
            kind: 'text',
            tone: 'soft',
            text: `Times are seconds of the clip, places metres from the pivot. ${PLUS_MINUS}`,
          },
        ],
      },
      cautionsSection(RIDE_CAUTIONS),
    ],
    foot: [
      `Clip: ${clipFacts(ride.clip)}. ${ride.clip.slowMotionEvidence}`,
      `Tiphold ${ride.program.version}  ·  clip ${ride.clip.sha256.slice(0, 12)}`,
    ],
  }
}

function reviewSection(items: readonly ReviewItem[]): readonly Block[] {
  const lines = reviewLines(items)
  if (lines.length === 0) return []
  const rows = lines.map(({ when, who, what }) => [when, who, what])
  return [{ kind: 'section', title: 'Comments', blocks: [{ kind: 'table', head: ['When', 'Who', 'What'], rows }] }]
}

function verdictCard({ title, shape, word, scale, sentences }: VerdictCard, contactM: number): Card {
  return {
    title,
    shape: <VerdictShape shape={shape} />,
    word,
    scale: scale === null ? null : <VerdictScale scale={scale} contactM={contactM} />,
    text: sentences.join(' '),
  }
}

function stops({ measures: { pauses, turnedBack } }: Ride, lengthM: number): readonly Block[] {
  const sentences = pauses.map(
    ({ fromS, toS, bodyM }) =>
      `Paused for ${fixed(toS - fromS, 2)} s with the body ${placeInWords(bodyM, lengthM)}, from ${fixed(fromS, 2)} s on.`,
  )
  if (turnedBack) sentences.push('Turned back on the way.')
  return sentences.length === 0 ? [] : [{ kind: 'text', tone: 'plain', text: sentences.join(' ') }]
}

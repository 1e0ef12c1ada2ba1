import type { Board } from '../../../analysis/board/board.ts'
import type { Drop, DropTestFile } from '../../../analysis/drop/drop-test.ts'
import { repeatSentences } from '../../../analysis/board-physics/repeat-words.ts'
import { RULE_SETS } from '../../../analysis/rules/rule-sets.ts'
import { dropPlaceInWords, dropTimeInWords, sourceInWords } from '../../../analysis/rules/rule-words.ts'
import { fixed, placeInWords } from '../../../analysis/words/in-words.ts'
import { DURATION, knownRows, MOMENT } from '../../../analysis/words/number-rows.ts'
import { siDisplay, smallLengthDisplay } from '../../../analysis/words/units.ts'
import { groupedByDetail } from '../../../analysis/words/withheld-list.ts'
import { DropChart } from '../../../renderer/figures/drop-chart.tsx'
import { dropAnswers, dropName } from './drop-answers.ts'
import {
  answerBlock,
  cautionsSection,
  figureBlock,
  notesSection,
  numbersBlock,
  sectionOf,
  stillBlock,
  stillRows,
  withheldSection,
} from './page-blocks.tsx'
import type { Block, ReportPage } from './report-page.ts'
import type { Still } from './take-stills.ts'

const CAUTIONS = [
  'Your rule book and the judge decide whether a board may be used. Boards that drop too fast or bang too hard are for no dog.',
  'Keep hands, feet and dogs out from under the board; set the weight down gently and take the hand away upwards.',
  'A base that rocks or slides makes the board unsafe and these numbers wrong: peg it down or weigh it down.',
]

/** The report of one board's drop tests; `stills[k]` belong to `file.drops[k]`. */
export function dropPage(file: DropTestFile, board: Board, stills: readonly (readonly Still[])[]): ReportPage {
  const { physics, drops } = file
  const boardRows = knownRows([
    ['Inertia of the board about its axis', physics.inertiaKgM2, siDisplay('kg m²', 2)],
    ['Torque that holds the entry end down', physics.biasTorqueNm, siDisplay('N m', 2)],
    ['Friction, steady part', physics.coulombNm, siDisplay('N m', 2)],
    ['Friction, part that grows with speed', physics.viscousNms, siDisplay('N m s', 2)],
  ])
  const [only] = drops
  return {
    title: drops.length === 1 && only !== undefined ? `Drop test in ${only.clip}` : `${drops.length} drop tests`,
    blocks: [
      ...file.repeats
        .flatMap((repeated) => repeatSentences(repeated))
        .map((text): Block => ({ kind: 'text', tone: 'plain', text })),
      ...drops.flatMap((drop, k) => dropBlocks(drop, dropName(drops, k), board, stills[k] ?? [])),
      ...sectionOf('The board', boardRows.length === 0 ? [] : [numbersBlock(boardRows)]),
      ...withheldSection(
        groupedByDetail([
          ['the inertia of the board', physics.inertiaKgM2],
          ['the torque that holds the entry end down', physics.biasTorqueNm],
          ['its friction', physics.coulombNm],
        ]),
      ),
      ruleBooks(),
      cautionsSection(CAUTIONS),
    ],
    foot: [`Tiphold ${file.program.version}`],
  }
}

function dropBlocks(drop: Drop, name: string, board: Board, stills: readonly Still[]): readonly Block[] {
  const { events, measures } = drop
  const rows = knownRows([
    ['Weight placed', events.placed, MOMENT],
    ['Weight let go', events.released, MOMENT],
    ['Board began to tip', events.tipStart, MOMENT],
    ['Board landed', events.grounded, MOMENT],
    ['From placing to the landing', measures.fallFromPlacedS, DURATION],
    ['From letting go to the landing', measures.fallFromReleasedS, DURATION],
    ['Bounce of the exit end', measures.bounceM, smallLengthDisplay('metric')],
    ...(measures.baseShiftM === undefined
      ? []
      : [['Shift of the base along the ground', measures.baseShiftM, smallLengthDisplay('metric')] as const]),
  ])
  const missing = groupedByDetail([
    ['when the weight was placed', events.placed],
    ['when it was let go', events.released],
    ['when the board began to tip', events.tipStart],
    ['when it landed', events.grounded],
    ['the time from placing to the landing', measures.fallFromPlacedS],
    ['the time from letting go to the landing', measures.fallFromReleasedS],
    ['the bounce', measures.bounceM],
    ...(measures.baseShiftM === undefined ? [] : [['the shift of the base', measures.baseShiftM] as const]),
    ...(measures.baseLiftM === undefined ? [] : [['the lift of the base', measures.baseLiftM] as const]),
  ])
  const [firstStill, ...furtherStills] = stills
  const weight = `${fixed(drop.massKg, 2)} kg, ${placeInWords(drop.massAtM, board.lengthM)}`
  return [
    { kind: 'text', tone: 'soft', text: `${name}: ${weight}` },
    {
      kind: 'columns',
      columns: [
        { share: 5, blocks: dropAnswers(drop).map(answerBlock) },
        { share: 6, blocks: firstStill === undefined ? [] : [stillBlock(firstStill)] },
      ],
    },
    { kind: 'section', title: 'How the exit end fell', blocks: [figureBlock(<DropChart drop={drop} />)] },
    ...stillRows(furtherStills),
    ...withheldSection(missing),
    ...notesSection(drop.notes),
    ...sectionOf('All numbers', rows.length === 0 ? [] : [numbersBlock(rows)]),
  ]
}

/** What rule books ask of a board's fall, with how well that is known. */
function ruleBooks(): Block {
  const rows = RULE_SETS.flatMap(({ name, drop }) =>
    drop === null
      ? []
      : [
          [
            name,
            `${fixed(drop.says.massKg, 2)} kg ${dropPlaceInWords(drop.says.where)}`,
            dropTimeInWords(drop.says),
            sourceInWords(drop.source),
          ],
        ],
  )
  return {
    kind: 'section',
    title: 'What rule books ask for',
    blocks: [
      { kind: 'table', head: ['Rule book', 'Weight', 'The board lands in', 'Source'], rows },
      { kind: 'text', tone: 'soft', text: 'Rules change: check your own rule book.' },
    ],
  }
}

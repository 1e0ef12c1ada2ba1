import { SHOWN_DOGS_KG } from '../../../analysis/board-physics/feel.ts'
import { dayInWords } from '../../../analysis/progress/sentences.ts'
import { doubtSentence, seenSizeText, sizeNotes } from '../../../analysis/board-sizes/size-words.ts'
import type { BuildPart } from '../../../analysis/rules/build-check.ts'
import { BUILD_PARTS, findingInWords, limitsInWords, seenFindingInWords } from '../../../analysis/rules/build-words.ts'
import { sourceInWords } from '../../../analysis/rules/rule-words.ts'
import type { Board } from '../../../analysis/board/board.ts'
import { wearSentence } from '../../../analysis/board-physics/wear-words.ts'
import { ASSUMED_BOARD, BOARD_CAUTIONS } from '../../../analysis/words/board-cautions.ts'
import { fixed } from '../../../analysis/words/in-words.ts'
import { BoardDogs } from '../../../renderer/figures/board-dogs.tsx'
import { BoardWearFigure } from '../../../renderer/figures/board-wear.tsx'
import { BoardToScale } from '../../../renderer/figures/board-to-scale.tsx'
import { FallCurveFigure } from '../../../renderer/figures/fall-curve.tsx'
import type { BoardCheckFile } from '../../../analysis/board-physics/board-check-file.ts'
import {
  adviceSentence,
  fallSentence,
  feelSentence,
  figureText,
  togetherSentences,
  verdictSentence,
} from '../../../analysis/board-physics/board-words.ts'
import { cautionsSection, figureBlock, sectionOf } from './page-blocks.tsx'
import type { Block, ReportPage } from './report-page.ts'

/**
 * One page about a board: the rule set's test, what to do, its sizes, how it feels to dogs, how it comes back.
 *
 * @param name what its owner calls it; null: not known
 * @param isAssumed nobody has measured its lengths
 */
export function boardPage(
  check: BoardCheckFile,
  board: Board,
  { name = null, isAssumed = false }: { readonly name?: string | null; readonly isAssumed?: boolean } = {},
): ReportPage {
  const { test, curve, feel, rules } = check
  const dogs = feel.dogs.filter(({ massKg }) => SHOWN_DOGS_KG.includes(massKg))
  const knowsFeel = dogs.some(({ fallS, tipAtM }) => fallS.kind === 'measured' || tipAtM.kind === 'measured')
  return {
    title: name === null ? `Board check, ${rules.name}` : `${name}: board check, ${rules.name}`,
    blocks: [
      ...(isAssumed ? [{ kind: 'text', tone: 'plain', text: ASSUMED_BOARD } as const] : []),
      { kind: 'text', tone: 'plain', text: `${fallSentence(check)} ${verdictSentence(check)}` },
      {
        kind: 'columns',
        columns: [
          {
            share: 6,
            blocks: [
              figureBlock(
                <BoardToScale
                  board={board}
                  restAngleDeg={check.restAngleDeg}
                  test={test}
                  advice={check.advice[0] ?? null}
                />,
              ),
            ],
          },
          { share: 5, blocks: [...adviceBlocks(check, board), ...togetherBlocks(check), tellSection(check)] },
        ],
      },
      ...sectionOf(
        'The fall in the test',
        curve === null ? [] : [figureBlock(<FallCurveFigure curve={curve} {...test} />)],
      ),
      ...sectionOf(
        'Where dogs tip it',
        knowsFeel
          ? [
              { kind: 'text', tone: 'soft', text: feelText(check) },
              figureBlock(<BoardDogs lengthM={board.lengthM} contactM={board.contactM} dogs={dogs} />),
            ]
          : [],
      ),
      // Lengths that were assumed would keep to the rules whatever the board is like.
      ...(isAssumed ? [] : [sizesSection(check, board)]),
      cautionsSection(BOARD_CAUTIONS),
      ...sectionOf(
        'Over the months',
        check.wear.flatMap((wear): Block[] => [
          { kind: 'text', tone: 'plain', text: wearSentence(wear) },
          figureBlock(<BoardWearFigure wear={wear} />),
        ]),
      ),
    ],
    foot: [
      `${dropsText(check)} Test by ${sourceInWords(rules.source)}. Rules change: check your own rule book. Tiphold ${check.program.version}`,
    ],
  }
}

function togetherBlocks(check: BoardCheckFile): readonly Block[] {
  const sentences = togetherSentences(check)
  return sectionOf(
    'Drops taken together',
    sentences.length === 0 ? [] : [{ kind: 'text', tone: 'plain', text: sentences.join(' ') }],
  )
}

function adviceBlocks({ advice, adviceWithheld }: BoardCheckFile, board: Board): readonly Block[] {
  if (adviceWithheld !== null)
    return sectionOf('What to do', [{ kind: 'text', tone: 'plain', text: adviceWithheld.detail }])
  const items = advice.map((option) => adviceSentence(option, board.lengthM))
  const title = advice.length > 1 ? 'What to do: any one of these' : 'What to do'
  return sectionOf(title, [
    items.length === 0
      ? { kind: 'text', tone: 'plain', text: 'Nothing: leave it as it is.' }
      : { kind: 'list', items, tone: 'plain' },
  ])
}

function feelText({ feel }: BoardCheckFile): string {
  return `For a dog that walks up slowly; falls with it in the middle of the down contact. ${feelSentence(feel) ?? ''}`.trimEnd()
}

function tellSection(check: BoardCheckFile): Block {
  return { kind: 'section', title: 'What the drops tell', blocks: [physics(check)] }
}

function sizesSection(check: BoardCheckFile, board: Board): Block {
  return { kind: 'section', title: 'Sizes', blocks: [sizes(check), ...sizeNotesOf(check, board)] }
}

/** Each size as it was entered and, where clips were marked, as pictures show it. */
function sizes({ dimensions, sizes: seen }: BoardCheckFile): Block {
  const inPictures = (part: BuildPart): readonly string[] => {
    if (seen === null) return []
    const finding = seen.findings.find((one) => one.part === part)
    const size = seenSizeText(seen, part)
    return [finding === undefined ? size : `${size}: ${seenFindingInWords(finding)}`]
  }
  const rows = dimensions.map((finding) => [
    BUILD_PARTS[finding.part],
    finding.valueM === null ? 'not given' : `${fixed(finding.valueM, 3)} m`,
    limitsInWords(finding),
    findingInWords(finding),
    ...inPictures(finding.part),
  ])
  const head = ['Size', 'As entered', 'Asked for', 'Finding', ...(seen === null ? [] : ['In the pictures'])]
  return { kind: 'table', head, rows }
}

/** Entries that the pictures contradict; what else they tell, and where the asked figures come from, each source once. */
function sizeNotesOf({ dimensions, sizes: seen, rules }: BoardCheckFile, board: Board): readonly Block[] {
  // The foot names the source of the test already.
  const test = sourceInWords(rules.source)
  const told = [...new Set(dimensions.map(({ source }) => sourceInWords(source)))].filter((source) => source !== test)
  const asked = told.length === 0 ? [] : [`Sizes asked for by: ${told.join('; ')}.`]
  const notes = seen === null ? [] : sizeNotes(seen)
  const soft = [...notes, ...asked]
  return [
    ...(seen?.doubts ?? []).map((doubt): Block => ({
      kind: 'text',
      tone: 'plain',
      text: doubtSentence(doubt, board.lengthM),
    })),
    ...(soft.length === 0 ? [] : [{ kind: 'text', tone: 'soft', text: soft.join(' ') } as const]),
  ]
}

function physics({ physics: board, returnSwing }: BoardCheckFile): Block {
  const back = { yes: 'by itself', no: 'not by itself', unsure: 'not known whether by itself' }[returnSwing.byItself]
  const time = returnSwing.returnS.kind === 'measured' ? `, in ${figureText(returnSwing.returnS, 1, 's')}` : ''
  return {
    kind: 'facts',
    facts: [
      { name: 'Inertia', text: figureText(board.inertiaKgM2, 1, 'kg m²') },
      { name: 'Held down by', text: figureText(board.biasTorqueNm, 1, 'N m') },
      { name: 'Dry friction', text: figureText(board.coulombNm, 1, 'N m') },
      { name: 'Speed friction', text: figureText(board.viscousNms, 1, 'N m s') },
      { name: 'Comes back', text: `${back}${time}` },
    ],
  }
}

function dropsText({ drops, plankKg }: BoardCheckFile): string {
  const told = drops.map(({ massKg, moved }) => `${fixed(massKg, 2)} kg${moved === false ? ' (did not move)' : ''}`)
  const weights = [...new Set(told)].map((weight) => {
    const count = told.filter((other) => other === weight).length
    return count === 1 ? weight : `${count} with ${weight}`
  })
  const plank = plankKg === null ? '' : `, plank of ${fixed(plankKg, 1)} kg`
  const days = drops.flatMap(({ day }) => day ?? []).sort()
  const [first, last] = [days[0], days[days.length - 1]]
  const from =
    first === undefined || last === undefined
      ? ''
      : first === last
        ? ` of ${dated(first)}`
        : ` from ${dated(first)} to ${dated(last)}`
  return `Rests on ${drops.length} ${drops.length === 1 ? 'drop' : 'drops'}${from}: ${weights.join(', ')}${plank}.`
}

function dated(day: string): string {
  return `${dayInWords(day)} ${day.slice(0, 4)}`
}

import { rm } from 'node:fs/promises'
import type { Board } from '../../analysis/board/board.ts'
import { repeatSentences } from '../../analysis/board-physics/repeat-words.ts'
import { repeatedDrops } from '../../analysis/board-physics/repeated-drops.ts'
import { USUAL_BOARD } from '../../analysis/rules/rule-sets.ts'
import type { DropTestFile } from '../../analysis/drop/drop-test.ts'
import { readBoardFile } from '../files/board-file.ts'
import { jsonText } from '../files/json-file.ts'
import type { Parsed } from '../files/parsed.ts'
import { readMarksFile } from '../files/marks-file.ts'
import { prepareOutputFolder, writingResults } from '../files/output-folder.ts'
import { droptestFiles } from '../files/result-files.ts'
import { writeWholeBytes, writeWholeText } from '../files/whole-file.ts'
import { originNotes } from '../measuring/origin-notes.ts'
import type {
  DropRequest,
  DropsOutcome,
  MeasuredDrop,
  MeasureDropsRequest,
  OnProgress,
} from '../measuring/measured-ride.ts'
import { programVersion } from '../program-version.ts'
import { answerText } from '../../analysis/words/answers.ts'
import { dropAnswers, dropName } from '../outputs/report/drop-answers.ts'
import { dropPage } from '../outputs/report/drop-page.tsx'
import { pageHtml } from '../outputs/report/page-html.tsx'
import { pagePdf } from '../outputs/report/page-pdf.ts'
import { type Still, takeStills } from '../outputs/report/take-stills.ts'
import { type CommandEnd, type DroptestCommand, exitCodes } from './command.ts'
import { failed, marksOfOtherClip, wrongUsage } from './command-end.ts'

export interface DroptestTools {
  readonly measureDrops: (request: MeasureDropsRequest) => Promise<DropsOutcome>
  readonly signal: AbortSignal
  readonly onProgress: OnProgress
  /** Tells the user something that does not stop the work. */
  readonly remark: (line: string) => void
}

/** Measures the drops of one board and writes their numbers and their report. */
export async function droptestCommand(command: DroptestCommand, tools: DroptestTools): Promise<CommandEnd> {
  const { boardPath } = command
  const board = boardPath === undefined ? { ok: true as const, value: USUAL_BOARD } : await readBoardFile(boardPath)
  if (!board.ok) return wrongUsage(board.message)
  const drops = await dropRequests(command, board.value, tools.remark)
  if (!drops.ok) return wrongUsage(drops.message)
  const folder = await prepareOutputFolder(command.outDir)
  if (!folder.ok) return wrongUsage(folder.message)
  const { signal, onProgress } = tools
  const outcome = await tools.measureDrops({
    drops: drops.value,
    board: board.value,
    origins: { marksFrom: 'file', boardFrom: boardPath === undefined ? 'assumed' : 'file' },
    signal,
    onProgress,
  })
  if (outcome.kind !== 'measured') return failed(outcome, command.drops.map(({ marksPath }) => marksPath).join(', '))
  const file: DropTestFile = {
    schema: 'tiphold.droptest/1',
    program: { version: programVersion },
    boardFrom: boardPath === undefined ? 'assumed' : 'file',
    drops: outcome.drops.map(({ drop }) => drop),
    repeats: repeatedDrops(outcome.drops.map(({ drop: { measures, ...drop } }) => ({ ...drop, ...measures }))),
    physics: outcome.physics,
  }
  const stills: (readonly Still[])[] = []
  for (const measured of outcome.drops) stills.push(await dropStills(measured, signal))
  const paths = droptestFiles(folder.value)
  await writingResults(async () => {
    await writeWholeText(paths.json, jsonText(file))
    const page = dropPage(file, board.value, stills)
    await writeWholeText(paths.html, pageHtml(page))
    // That of an earlier run would show other numbers than the ones just written.
    await rm(paths.pdf, { force: true })
    if (command.pdf) await writeWholeBytes(paths.pdf, await pagePdf(page))
  })
  const answers = [
    ...(boardPath === undefined ? originNotes({ boardFrom: 'assumed' }, board.value) : []),
    ...file.drops.flatMap((drop, k) => [
      ...(file.drops.length === 1 ? [] : [`${dropName(file.drops, k)}:`]),
      ...dropAnswers(drop).map(answerText),
    ]),
    ...file.repeats.flatMap((repeated) => repeatSentences(repeated)),
  ]
  return {
    exitCode: exitCodes.measured,
    lines: [...answers, paths.html, ...(command.pdf ? [paths.pdf] : [])],
    complaint: null,
  }
}

async function dropRequests(
  command: DroptestCommand,
  board: Board,
  remark: DroptestTools['remark'],
): Promise<Parsed<readonly DropRequest[]>> {
  const requests: DropRequest[] = []
  for (const { clipPath, marksPath, massKg, massAtM } of command.drops) {
    const marks = await readMarksFile(marksPath)
    if (!marks.ok) return marks
    const otherClip = marksOfOtherClip(marks.value, clipPath, marksPath)
    if (otherClip !== null) remark(otherClip)
    const atM = massAtM ?? board.lengthM - board.contactM / 2
    if (atM > board.lengthM) {
      return { ok: false, message: `--mass-at-m must lie on the plank, 0 to ${board.lengthM} m, got ${atM} m` }
    }
    requests.push({ clipPath, marks: marks.value, massKg, massAtM: atM })
  }
  return { ok: true, value: requests }
}

function dropStills({ drop, picture, source }: MeasuredDrop, signal: AbortSignal): Promise<readonly Still[]> {
  const { placed, released, grounded } = drop.events
  return takeStills(
    { ...source, signal },
    picture,
    [],
    [
      { caption: 'The weight is placed', at: placed },
      { caption: 'The weight is let go', at: released },
      { caption: 'The board lands', at: grounded },
    ],
  )
}

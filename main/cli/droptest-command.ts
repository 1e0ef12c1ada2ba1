import { rm } from 'node:fs/promises'
import type { Board } from '../../analysis/board/board.ts'
import type { Marks } from '../../analysis/board/marks.ts'
import type { ClipOrigins } from '../../analysis/clip/frame.ts'
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
  Failure,
  MeasuredDrop,
  MeasureDropsRequest,
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
import { lookForMarks, type LookingTools } from './looking-for-marks.ts'

export interface DroptestTools extends LookingTools {
  readonly measureDrops: (request: MeasureDropsRequest) => Promise<DropsOutcome>
  /** Tells the user something that does not stop the work. */
  readonly remark: (line: string) => void
}

/** Measures the drops of one board and writes their numbers and their report. */
export async function droptestCommand(command: DroptestCommand, tools: DroptestTools): Promise<CommandEnd> {
  const { boardPath } = command
  const board = boardPath === undefined ? { ok: true as const, value: USUAL_BOARD } : await readBoardFile(boardPath)
  if (!board.ok) return wrongUsage(board.message)
  const asked = await askedDrops(command, board.value, tools.remark)
  if (!asked.ok) return wrongUsage(asked.message)
  const folder = await prepareOutputFolder(command.outDir)
  if (!folder.ok) return wrongUsage(folder.message)
  const looked = await marked(asked.value, board.value, tools)
  if (looked.kind !== 'marked') return failed(looked, undefined)
  // Given for every clip or for none.
  const marksPaths = command.drops.flatMap(({ marksPath }) => marksPath ?? [])
  const { signal, onProgress } = tools
  const origins: ClipOrigins = {
    marksFrom: marksPaths.length === 0 ? 'found' : 'file',
    boardFrom: boardPath === undefined ? 'assumed' : 'file',
  }
  const outcome = await tools.measureDrops({
    drops: looked.drops,
    board: board.value,
    origins,
    signal,
    onProgress,
  })
  if (outcome.kind !== 'measured') return failed(outcome, marksPaths.length === 0 ? undefined : marksPaths.join(', '))
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
    ...originNotes(origins, board.value),
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

/** A drop as the command line asks for it; marks null: the plank is to be looked for. */
interface AskedDrop extends Omit<DropRequest, 'marks'> {
  readonly marks: Marks | null
}

async function askedDrops(
  command: DroptestCommand,
  board: Board,
  remark: DroptestTools['remark'],
): Promise<Parsed<readonly AskedDrop[]>> {
  const asked: AskedDrop[] = []
  for (const { clipPath, marksPath, massKg, massAtM } of command.drops) {
    const marks = marksPath === undefined ? null : await readMarksFile(marksPath)
    if (marks !== null && !marks.ok) return marks
    const otherClip = marks === null ? null : marksOfOtherClip(marks.value, clipPath, marksPath!)
    if (otherClip !== null) remark(otherClip)
    const atM = massAtM ?? board.lengthM - board.contactM / 2
    if (atM > board.lengthM) {
      return { ok: false, message: `--mass-at-m must lie on the plank, 0 to ${board.lengthM} m, got ${atM} m` }
    }
    asked.push({ clipPath, marks: marks?.value ?? null, massKg, massAtM: atM })
  }
  return { ok: true, value: asked }
}

async function marked(
  asked: readonly AskedDrop[],
  board: Board,
  tools: DroptestTools,
): Promise<{ readonly kind: 'marked'; readonly drops: readonly DropRequest[] } | Failure> {
  const drops: DropRequest[] = []
  for (const drop of asked) {
    const marks = drop.marks ?? (await lookForMarks({ clipPath: drop.clipPath, board }, tools))
    if ('kind' in marks) return marks
    drops.push({ ...drop, marks })
  }
  return { kind: 'marked', drops }
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

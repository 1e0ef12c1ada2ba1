import { rm } from 'node:fs/promises'
import { USUAL_BOARD } from '../../analysis/rules/rule-sets.ts'
import { readBoardFile } from '../files/board-file.ts'
import { jsonText } from '../files/json-file.ts'
import type { Parsed } from '../files/parsed.ts'
import { readMarksFile } from '../files/marks-file.ts'
import { prepareOutputFolder, writingResults } from '../files/output-folder.ts'
import { type RideFiles, removeFurtherRides, rideFiles } from '../files/result-files.ts'
import { writeWhole, writeWholeBytes, writeWholeText } from '../files/whole-file.ts'
import type { ClipOutcome, ClipSource, MeasureClipRequest, MeasuredRide } from '../measuring/measured-ride.ts'
import { writeOverlay } from '../outputs/overlay/write-overlay.ts'
import { answersOf, answerText } from '../../analysis/words/answers.ts'
import { pageHtml } from '../outputs/report/page-html.tsx'
import { pagePdf } from '../outputs/report/page-pdf.ts'
import { ridePage } from '../outputs/report/ride-page.tsx'
import { rideMoments } from '../outputs/report/ride-moments.ts'
import { takeStills } from '../outputs/report/take-stills.ts'
import { type CommandEnd, exitCodes, type MeasureCommand } from './command.ts'
import { failed, marksOfOtherClip, wrongUsage } from './command-end.ts'
import { lookForMarks, type LookingTools } from './looking-for-marks.ts'

/** What a command needs from outside. */
export interface MeasureTools extends LookingTools {
  readonly measureClip: (request: MeasureClipRequest) => Promise<ClipOutcome>
  /** Tells the user something that does not stop the work. */
  readonly remark: (line: string) => void
}

/** Measures a clip and writes, for each ride in it, its numbers, its report and, if asked for, its overlay. */
export async function measureCommand(command: MeasureCommand, tools: MeasureTools): Promise<CommandEnd> {
  const { signal, onProgress } = tools
  const { clipPath, marksPath, boardPath, slowMotion, fromS, toS } = command
  const board = boardPath === undefined ? parsed(USUAL_BOARD) : await readBoardFile(boardPath)
  if (!board.ok) return wrongUsage(board.message)
  const given = marksPath === undefined ? null : await readMarksFile(marksPath)
  if (given !== null && !given.ok) return wrongUsage(given.message)
  const folder = await prepareOutputFolder(command.outDir)
  if (!folder.ok) return wrongUsage(folder.message)
  const part = {
    ...(slowMotion === undefined ? {} : { slowMotion }),
    ...(fromS === undefined ? {} : { fromS }),
    ...(toS === undefined ? {} : { toS }),
  }
  const marks = given?.value ?? (await lookForMarks({ clipPath, board: board.value, ...part }, tools))
  if ('kind' in marks) return failed(marks, marksPath)
  const otherClip = marksPath === undefined ? null : marksOfOtherClip(marks, clipPath, marksPath)
  if (otherClip !== null) tools.remark(otherClip)
  const outcome = await tools.measureClip({
    clipPath,
    marks,
    board: board.value,
    origins: {
      marksFrom: marksPath === undefined ? 'found' : 'file',
      boardFrom: boardPath === undefined ? 'assumed' : 'file',
    },
    ...part,
    signal,
    onProgress,
  })
  if (outcome.kind !== 'measured') return failed(outcome, marksPath)
  const lines: string[] = []
  for (const [k, measured] of outcome.rides.entries()) {
    const files = rideFiles(folder.value, k)
    await writingResults(() => writeRide(measured, outcome.source, files, command, tools))
    if (outcome.rides.length > 1) lines.push(`Ride ${k + 1} of ${outcome.rides.length}`)
    lines.push(...answersOf(measured.ride, board.value.lengthM).map(answerText), files.html)
    if (command.pdf) lines.push(files.pdf)
    if (command.overlay) lines.push(files.overlay)
  }
  await writingResults(() => removeFurtherRides(folder.value, outcome.rides.length))
  return { exitCode: exitCodes.measured, lines, complaint: null }
}

function parsed<T>(value: T): Parsed<T> {
  return { ok: true, value }
}

async function writeRide(
  measured: MeasuredRide,
  source: ClipSource,
  files: RideFiles,
  { overlay, pdf }: Pick<MeasureCommand, 'overlay' | 'pdf'>,
  { signal, onProgress }: MeasureTools,
): Promise<void> {
  const { ride, picture } = measured
  const stills = await takeStills({ ...source, signal }, picture, ride.footfalls, rideMoments(ride))
  await writeWholeText(files.json, jsonText(ride))
  const page = ridePage(measured, stills)
  await writeWholeText(files.html, pageHtml(page))
  // Files of an earlier run would show other numbers than the ones just written.
  for (const path of [files.pdf, files.overlay]) await rm(path, { force: true })
  if (pdf) await writeWholeBytes(files.pdf, await pagePdf(page))
  if (overlay) {
    await writeWhole(files.overlay, (path) => writeOverlay({ ...source, signal, onProgress }, measured, path))
  }
}

import { rm } from 'node:fs/promises'
import { readBoardFile } from '../files/board-file.ts'
import { jsonText } from '../files/json-file.ts'
import { readMarksFile } from '../files/marks-file.ts'
import { prepareOutputFolder, writingResults } from '../files/output-folder.ts'
import { type RideFiles, removeFurtherRides, rideFiles } from '../files/result-files.ts'
import { writeWhole, writeWholeText } from '../files/whole-file.ts'
import type {
  ClipOutcome,
  ClipSource,
  MeasureClipRequest,
  MeasuredRide,
  OnProgress,
} from '../measuring/measured-ride.ts'
import { writeOverlay } from '../overlay/write-overlay.ts'
import { answersOf, answerText } from '../../analysis/words/answers.ts'
import { ridePage } from '../report/ride-page.ts'
import { rideMoments } from '../report/ride-moments.ts'
import { takeStills } from '../report/take-stills.ts'
import { type CommandEnd, exitCodes, type MeasureCommand } from './command.ts'
import { failed, marksOfOtherClip, wrongUsage } from './command-end.ts'

/** What a command needs from outside. */
export interface MeasureTools {
  readonly measureClip: (request: MeasureClipRequest) => Promise<ClipOutcome>
  readonly signal: AbortSignal
  readonly onProgress: OnProgress
  /** Tells the user something that does not stop the work. */
  readonly remark: (line: string) => void
}

/** Measures a clip and writes, for each ride in it, its numbers, its report and, if asked for, its overlay. */
export async function measureCommand(command: MeasureCommand, tools: MeasureTools): Promise<CommandEnd> {
  const { signal, onProgress } = tools
  const board = await readBoardFile(command.boardPath)
  if (!board.ok) return wrongUsage(board.message)
  const marks = await readMarksFile(command.marksPath)
  if (!marks.ok) return wrongUsage(marks.message)
  const folder = await prepareOutputFolder(command.outDir)
  if (!folder.ok) return wrongUsage(folder.message)
  const { clipPath, slowMotion, fromS, toS } = command
  const otherClip = marksOfOtherClip(marks.value, clipPath, command.marksPath)
  if (otherClip !== null) tools.remark(otherClip)
  const outcome = await tools.measureClip({
    clipPath,
    marks: marks.value,
    board: board.value,
    ...(slowMotion === undefined ? {} : { slowMotion }),
    ...(fromS === undefined ? {} : { fromS }),
    ...(toS === undefined ? {} : { toS }),
    signal,
    onProgress,
  })
  if (outcome.kind !== 'measured') return failed(outcome, command.marksPath)
  const lines: string[] = []
  for (const [k, measured] of outcome.rides.entries()) {
    const files = rideFiles(folder.value, k)
    await writingResults(() => writeRide(measured, outcome.source, files, command.overlay, tools))
    if (outcome.rides.length > 1) lines.push(`Ride ${k + 1} of ${outcome.rides.length}`)
    lines.push(...answersOf(measured.ride, board.value.lengthM).map(answerText), files.html)
    if (command.overlay) lines.push(files.overlay)
  }
  await writingResults(() => removeFurtherRides(folder.value, outcome.rides.length))
  return { exitCode: exitCodes.measured, lines, complaint: null }
}

async function writeRide(
  measured: MeasuredRide,
  source: ClipSource,
  files: RideFiles,
  withOverlay: boolean,
  { signal, onProgress }: MeasureTools,
): Promise<void> {
  const { ride, picture } = measured
  const stills = await takeStills({ ...source, signal }, picture, ride.footfalls, rideMoments(ride))
  await writeWholeText(files.json, jsonText(ride))
  await writeWholeText(files.html, ridePage(measured, stills))
  // An overlay of an earlier run would show other numbers than the ones just written.
  await rm(files.overlay, { force: true })
  if (withOverlay) {
    await writeWhole(files.overlay, (path) => writeOverlay({ ...source, signal, onProgress }, measured, path))
  }
}

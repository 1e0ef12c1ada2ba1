import type { Board } from '../../analysis/board/board.ts'
import type { Marks } from '../../analysis/board/marks.ts'
import { calibrate } from '../../analysis/calibration/calibrate.ts'
import type { Frame } from '../../analysis/clip/frame.ts'
import { viewFor } from '../../analysis/clip/view.ts'
import { carryGrounded, carryMarks } from '../../analysis/finding/carry-marks.ts'
import type { MarksProposal } from '../contract/clips.ts'
import { chooseFfmpeg } from '../engines/ffmpeg-choice.ts'
import type { KeptClip, Library } from '../library/library.ts'
import type { ProbedClip } from '../media/probed-clip.ts'
import { readStills } from '../media/read-stills.ts'
import type { ClipFiles } from './clips-files.ts'
import { draftOf, marksOf, travelOf } from './clips-marks.ts'
import { misfitOf } from './clips-misfit.ts'

/** Clips are compared at this size, longest side in px. */
const LONGEST_PX = 960
/** So many marked clips are tried, the newest first. */
const MOST_TRIED = 5
/** Where the board may rest, s after the start of the stretch: a dog or a leg may be in the way in one of them. */
const REST_AFTER_S = [0, 0.25, 0.5]
/** Frames among which the landed board is looked for. */
const SCANNED = 48

/** Carries marks over from the newest marked clip of the same tripod place; null when there is none that agrees. */
export async function carriedProposal(
  library: Library,
  files: ClipFiles,
  clip: KeptClip,
  opened: ProbedClip,
  signal: AbortSignal,
): Promise<MarksProposal | null> {
  const alike = library.clips.list().flatMap((other) => {
    const marks = marksOf(other.marks, { fileName: other.facts.fileName, travel: null })
    const boardId = clip.setup.boardId ?? other.setup.boardId
    const board = boardId === null ? null : library.boards.get(boardId)
    const isLike =
      other.id !== clip.id && other.facts.widthPx === clip.facts.widthPx && other.facts.heightPx === clip.facts.heightPx
    if (!isLike || !marks.ok || board === null) return []
    const runsOtherWay = clip.setup.travel !== null && clip.setup.travel !== travelOf(marks.value.rest)
    return runsOtherWay ? [] : [{ other, marks: marks.value, board: board.shape }]
  })
  const restFrames = alike.length === 0 ? [] : await stillsOf(opened, restIndices(clip), signal)
  for (const { other, marks, board } of alike.slice(0, MOST_TRIED)) {
    const known = await files.open(other.id, signal)
    if (!known.ok) continue
    const carried = await carriedFrom(known.value, marks, board, clip, opened, restFrames, signal)
    if (carried === null) continue
    const misfit = misfitOf(board, carried.marks, opened.video)
    if (misfit === null) continue
    return {
      marks: draftOf(carried.marks),
      from: `as in ${other.facts.fileName}, the same tripod place`,
      misfit,
      advice: adviceFor(carried, marks),
    }
  }
  return null
}

interface Carried {
  readonly marks: Marks
  readonly likeness: number
}

async function carriedFrom(
  known: ProbedClip,
  marks: Marks,
  board: Board,
  clip: KeptClip,
  opened: ProbedClip,
  restFrames: readonly Frame[],
  signal: AbortSignal,
): Promise<Carried | null> {
  const calibrated = calibrate(board, { clip: marks.clip, rest: marks.rest }, known.video)
  const [marked] = await stillsOf(known, [marks.rest.frame], signal)
  if (marked === undefined || calibrated.kind === 'impossible') return null
  const rest = carryMarks(marks.rest, marked, calibrated.calibration.best, known.video, restFrames)
  if (rest === null) return null
  const there: Marks = { clip: clip.facts.fileName, rest: rest.rest }
  const [markedGrounded] = marks.grounded === undefined ? [] : await stillsOf(known, [marks.grounded.frame], signal)
  if (marks.grounded === undefined || markedGrounded === undefined) return { marks: there, likeness: rest.likeness }
  const frames = await stillsOf(opened, scannedIndices(clip), signal)
  const grounded = carryGrounded(marks.grounded, markedGrounded, rest.motion.frameFromReference, frames)
  const all = grounded === null || grounded.frame === rest.rest.frame ? there : { ...there, grounded }
  return { marks: all, likeness: rest.likeness }
}

function adviceFor({ marks, likeness }: Carried, known: Marks): string {
  const alike = `The picture around the marks looks the same as there (${Math.floor(100 * likeness)} %).`
  if (marks.grounded === undefined && known.grounded !== undefined)
    return `${alike} No frame with the landed board was found: mark that one yourself, or say that it never lands.`
  return `${alike} Look at both ends before you take it over.`
}

function stillsOf(clip: ProbedClip, indices: readonly number[], signal: AbortSignal): Promise<readonly Frame[]> {
  const { widthPx, heightPx } = clip.video
  const view = viewFor(clip.video, undefined, Math.min(1, LONGEST_PX / Math.max(widthPx, heightPx)))
  return chooseFfmpeg()
    .then((ffmpeg) => readStills(clip, ffmpeg, indices, { view, greyOnly: true, signal }))
    .then((stills) => [...stills.values()])
}

function restIndices({ setup, facts, slowMotion, frameTimesS }: KeptClip): number[] {
  const first = setup.stretch?.fromFrame ?? 0
  const factor = setup.slowMotion ?? slowMotion.factor
  const wantedS = REST_AFTER_S.map((afterS) => (frameTimesS[first] ?? 0) + afterS * factor)
  const indices = wantedS.map((atS) => frameTimesS.findIndex((t) => t >= atS)).filter((index) => index >= 0)
  return [...new Set(indices)].filter((index) => index < facts.frameCount)
}

function scannedIndices({ setup, facts }: KeptClip): number[] {
  const first = setup.stretch?.fromFrame ?? 0
  const last = setup.stretch?.toFrame ?? facts.frameCount - 1
  const count = Math.min(SCANNED, last - first + 1)
  return Array.from({ length: count }, (_, k) => first + Math.round((k * (last - first)) / Math.max(1, count - 1)))
}

import type { Marks } from '../../analysis/board/marks.ts'
import { calibrate } from '../../analysis/calibration/calibrate.ts'
import type { Frame } from '../../analysis/clip/frame.ts'
import { viewFor } from '../../analysis/clip/view.ts'
import { carryGrounded, carryMarks } from '../../analysis/finding/carry-marks.ts'
import type { MarksProposal } from '../contract/clips.ts'
import type { MediaFfmpeg, ProbedClip } from '../media/probed-clip.ts'
import { readStills } from '../media/read-stills.ts'
import { draftOf } from './clips-marks.ts'
import type { ClipToMark, MarkedClip } from './proposing-messages.ts'
import { misfitOf } from './proposing-misfit.ts'

/** Clips are compared at this size, longest side in px. */
const LONGEST_PX = 960
/** Where the board may rest, s after the start of the stretch: a dog or a leg may be in the way in one of them. */
const REST_AFTER_S = [0, 0.25, 0.5]
/** Frames among which the landed board is looked for. */
const SCANNED = 48

/** A clip with its file read. */
export interface OpenClip {
  readonly clip: ProbedClip
  readonly ffmpeg: MediaFfmpeg
}

/** Frames of the clip in which the board may rest, to carry marks over to. */
export function restFrames(open: OpenClip, { stretch, slowMotionFactor }: ClipToMark): Promise<readonly Frame[]> {
  const times = open.clip.video.fileTimesS
  const fromS = times[stretch?.fromFrame ?? 0] ?? 0
  const indices = REST_AFTER_S.map((afterS) => times.findIndex((t) => t >= fromS + afterS * slowMotionFactor - 1e-6))
  return stillsOf(
    open,
    indices.filter((index) => index >= 0),
  )
}

/**
 * Carries marks over from a clip of the same tripod place.
 *
 * @param resting from `restFrames`
 * @returns null when the places are not the same, the board was moved, or no seesaw fits the carried marks
 */
export async function carriedProposal(
  open: OpenClip,
  wanted: ClipToMark,
  known: MarkedClip,
  knownOpen: OpenClip,
  resting: readonly Frame[],
): Promise<MarksProposal | null> {
  const { marks } = known
  const board = wanted.board ?? known.board
  const calibrated = calibrate(known.board, { clip: marks.clip, rest: marks.rest }, knownOpen.clip.video)
  const [marked] = await stillsOf(knownOpen, [marks.rest.frame])
  if (marked === undefined || calibrated.kind === 'impossible') return null
  const rest = carryMarks(marks.rest, marked, calibrated.calibration.best, knownOpen.clip.video, resting)
  if (rest === null) return null
  const grounded = await carriedGrounded(open, wanted, marks, knownOpen, rest.motion.frameFromReference)
  const isAnother = grounded !== null && grounded.frame !== rest.rest.frame
  const carried: Marks = { clip: wanted.fileName, rest: rest.rest, ...(isAnother ? { grounded } : {}) }
  const misfit = misfitOf(board, carried, open.clip.video)
  if (misfit === null) return null
  const alike = `The picture around the marks looks the same as there (${Math.floor(100 * rest.likeness)} %).`
  return {
    marks: { ...draftOf(carried), neverLands: false },
    from: `as in ${known.fileName}, the same tripod place`,
    misfit,
    advice: isAnother
      ? `${alike} Look at both ends before you take it over.`
      : `${alike} No frame with the landed board was found: mark that one yourself, or say that it never lands.`,
  }
}

async function carriedGrounded(
  open: OpenClip,
  { stretch }: ClipToMark,
  { grounded }: Marks,
  knownOpen: OpenClip,
  motion: Float64Array,
) {
  if (grounded === undefined) return null
  const [marked] = await stillsOf(knownOpen, [grounded.frame])
  if (marked === undefined) return null
  const first = stretch?.fromFrame ?? 0
  const last = stretch?.toFrame ?? open.clip.video.fileTimesS.length - 1
  const count = Math.min(SCANNED, last - first + 1)
  const step = (last - first) / Math.max(1, count - 1)
  const scanned = await stillsOf(
    open,
    Array.from({ length: count }, (_, k) => first + Math.round(k * step)),
  )
  return carryGrounded(grounded, marked, motion, scanned)
}

async function stillsOf({ clip, ffmpeg }: OpenClip, indices: readonly number[]): Promise<readonly Frame[]> {
  const { widthPx, heightPx } = clip.video
  const view = viewFor(clip.video, undefined, Math.min(1, LONGEST_PX / Math.max(widthPx, heightPx)))
  return [...(await readStills(clip, ffmpeg, indices, { view, greyOnly: true })).values()]
}

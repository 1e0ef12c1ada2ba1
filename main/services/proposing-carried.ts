import type { Marks } from '../../analysis/board/marks.ts'
import { calibrate } from '../../analysis/calibration/calibrate.ts'
import type { RestMarks } from '../../analysis/board/marks.ts'
import type { Frame } from '../../analysis/clip/frame.ts'
import { viewFor } from '../../analysis/clip/view.ts'
import { type CarriedGrounded, carryGrounded, carryMarks } from '../../analysis/finding/carry-marks.ts'
import type { FoundPlank } from '../../analysis/finding/find-plank.ts'
import { carriedOffer, groundedOf } from '../../analysis/finding/marks-offer.ts'
import type { MarksProposal } from '../contract/clips.ts'
import { readStills } from '../film/media/read-stills.ts'
import type { ClipToMark, MarkedClip } from './proposing-messages.ts'
import { closeLook, type OpenClip } from './close-look.ts'

/** Clips are compared at this size, longest side in px. */
const LONGEST_PX = 960
/** Where the board may rest, s after the start of the stretch: a dog or a leg may be in the way in one of them. */
const REST_AFTER_S = [0, 0.25, 0.5]
/** Frames among which the landed board is looked for. */
const SCANNED = 48

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
 * Carries marks over from a clip of the same tripod place, and places them anew by what this clip shows.
 *
 * @param resting from `restFrames`
 * @param found the plank as the program found it by itself, if it did: it knows when the plank has landed
 * @returns null when the places are not the same, the board was moved far, or no seesaw fits the carried marks
 */
export async function carriedProposal(
  open: OpenClip,
  wanted: ClipToMark,
  known: MarkedClip,
  knownOpen: OpenClip,
  resting: readonly Frame[],
  found: FoundPlank | null,
): Promise<MarksProposal | null> {
  const { marks } = known
  const board = wanted.board ?? known.board
  const calibrated = calibrate(known.board, { clip: marks.clip, rest: marks.rest }, knownOpen.clip.video)
  const [marked] = await stillsOf(knownOpen, [marks.rest.frame])
  if (marked === undefined || calibrated.kind === 'impossible') return null
  const carried = carryMarks(marks.rest, marked, calibrated.calibration.best, knownOpen.clip.video, resting)
  if (carried === null) return null
  const motion = carried.motion.frameFromReference
  const grounded =
    (await carriedGrounded(open, wanted, marks, knownOpen, motion)) ?? groundedOf(marks.grounded, motion, found)
  const looked = grounded === null ? null : await closeLook(open, board, foundOf(carried.rest, grounded), 'marked')
  const refined = typeof looked === 'string' ? null : looked
  const knownMisfitPx = calibrated.calibration.misfitPx
  return carriedOffer({ fileName: known.fileName, carried, knownMisfitPx, grounded, refined, board })
}

function foundOf(rest: RestMarks, { grounded, frames }: CarriedGrounded): FoundPlank {
  return { rest, grounded, landedFrames: [...frames].sort((a, b) => a - b) }
}

async function carriedGrounded(
  open: OpenClip,
  { stretch }: ClipToMark,
  { grounded }: Marks,
  knownOpen: OpenClip,
  motion: Float64Array,
): Promise<CarriedGrounded | null> {
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

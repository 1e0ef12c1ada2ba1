import type { Marks } from '../../analysis/board/marks.ts'
import { calibrate } from '../../analysis/calibration/calibrate.ts'
import type { RestMarks } from '../../analysis/board/marks.ts'
import { mapImage } from '../../analysis/camera/camera-motion.ts'
import type { Frame } from '../../analysis/clip/frame.ts'
import { viewFor } from '../../analysis/clip/view.ts'
import { type CarriedGrounded, carryGrounded, carryMarks } from '../../analysis/finding/carry-marks.ts'
import type { FoundPlank } from '../../analysis/finding/find-plank.ts'
import type { RefinedPlank } from '../../analysis/finding/refine-plank.ts'
import type { MarksProposal } from '../contract/clips.ts'
import { readStills } from '../media/read-stills.ts'
import type { ClipToMark, MarkedClip } from './proposing-messages.ts'
import { metresPerPx, missingIn, MOST_MISFIT_M, type OpenClip, refinedStills } from './proposing-refined.ts'

/** Clips are compared at this size, longest side in px. */
const LONGEST_PX = 960
/** Where the board may rest, s after the start of the stretch: a dog or a leg may be in the way in one of them. */
const REST_AFTER_S = [0, 0.25, 0.5]
/** Frames among which the landed board is looked for. */
const SCANNED = 48
/** Marks that could not be placed anew are offered when places around them are found this well where they should be, px. */
const MOST_CARRIED_MISFIT_PX = 1.5
/** Less is not worth a word, px. */
const MOVED_PX = 2

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
  const mPerPx = metresPerPx(board, carried.rest)
  const refined = grounded === null ? null : await refinedStills(open, board, foundOf(carried.rest, grounded))
  const placed = refined !== null && refined.misfitPx * mPerPx < MOST_MISFIT_M ? refined : null
  // Marks that are only carried are as far off as they were in their own clip, too.
  const misfitPx = placed?.misfitPx ?? Math.hypot(carried.misfitPx, calibrated.calibration.misfitPx)
  if (placed === null && carried.misfitPx > MOST_CARRIED_MISFIT_PX) return null
  const isMoved = carried.movedPx > MOVED_PX
  const alike = `The picture around the marks looks the same (${Math.floor(100 * carried.likeness)} %).`
  const moved = isMoved ? ` The seesaw was moved by about ${carried.movedPx.toFixed(0)} px in between.` : ''
  return {
    marks:
      placed !== null
        ? { rest: placed.rest, grounded: placed.grounded, neverLands: false }
        : { rest: carried.rest, grounded: grounded?.grounded ?? null, neverLands: false },
    source: 'carried',
    from: `as in ${known.fileName}, same camera place`,
    misfit: { px: misfitPx, m: misfitPx * mPerPx },
    advice: `${alike}${moved} ${adviceOn(placed, grounded)}`,
  }
}

function adviceOn(placed: RefinedPlank | null, grounded: CarriedGrounded | null): string {
  if (placed !== null) return missingIn(placed) ?? 'Edges and ends were found anew in this clip. Check both ends.'
  if (grounded !== null) return 'Check both ends before you measure.'
  return 'No frame with the landed board was found: mark that one yourself, or say that it never lands.'
}

/** Where the plank landed in the known clip, in the frames in which it has landed here. */
function groundedOf(marks: Marks['grounded'], motion: Float64Array, found: FoundPlank | null): CarriedGrounded | null {
  if (found === null) return null
  const { frame } = found.grounded
  const grounded =
    marks === undefined
      ? found.grounded
      : { frame, entryEnd: mapImage(motion, marks.entryEnd), exitEnd: mapImage(motion, marks.exitEnd) }
  return { grounded, frames: found.landedFrames }
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

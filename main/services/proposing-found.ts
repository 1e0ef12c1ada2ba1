import type { Board } from '../../analysis/board/board.ts'
import { copyFrame, type Frame } from '../../analysis/clip/frame.ts'
import { viewFor } from '../../analysis/clip/view.ts'
import { findPlank, type FoundPlank } from '../../analysis/finding/find-plank.ts'
import { type RefinedPlank, refinePlank } from '../../analysis/finding/refine-plank.ts'
import type { MarksProposal } from '../contract/clips.ts'
import { readStills } from '../media/read-stills.ts'
import { streamFrames } from '../media/stream-frames.ts'
import { travelOf } from './clips-marks.ts'
import type { OpenClip } from './proposing-carried.ts'
import type { ClipToMark } from './proposing-messages.ts'

/** Looked at in this size, longest side in px, which is enough to find edges to a part of a pixel. */
const LONGEST_PX = 640
/** Then looked at closely in this one, in so many pictures of the landed plank. */
const CLOSE_LONGEST_PX = 1920
const MOST_LANDED = 5
/** Pictures spread over the clip: so many at least, and so many a s of real time, but not more than can be waited for. */
const LEAST_PICTURES = 40
const PICTURES_HZ = 5
const MOST_PICTURES = 120
/** The first of them show the board at rest, the last of them may show it landed. */
const RESTING_SHARE = 0.1
const LATER_SHARE = 0.3
/** Misfits beyond this are a wrong find, m on the plank. */
const MOST_MISFIT_M = 0.02
/** What most boards measure, for a clip whose board has not been chosen (rules of the large organisations). */
const USUAL_BOARD: Board = { lengthM: 3.66, widthM: 0.3, pivotHeightM: 0.61, contactM: 0.91 }

/** Marks of a plank that the program found by itself; null when none is found that a seesaw of this board fits. */
export async function foundProposal(open: OpenClip, wanted: ClipToMark): Promise<MarksProposal | null> {
  const board = wanted.board ?? USUAL_BOARD
  const pictures = await spreadPictures(open, wanted)
  const resting = Math.max(3, Math.round(RESTING_SHARE * pictures.length))
  const later = pictures.slice(Math.max(resting, Math.round(LATER_SHARE * pictures.length)))
  if (later.length === 0) return null
  const found = findPlank(pictures.slice(0, resting), later, board)
  if (found === null || (wanted.travel !== null && travelOf(found.rest) !== wanted.travel)) return null
  const refined = await refinedOf(open, board, found)
  if (refined === null) return null
  const { entryEnd, exitEnd } = found.rest
  const mPerPx = board.lengthM / Math.hypot(exitEnd.xPx - entryEnd.xPx, exitEnd.yPx - entryEnd.yPx)
  const misfit = { px: refined.misfitPx, m: refined.misfitPx * mPerPx }
  if (misfit.m > MOST_MISFIT_M) return null
  return {
    marks: { rest: refined.rest, grounded: refined.grounded, neverLands: false },
    from: 'found in the picture',
    misfit,
    advice: adviceFor(found, wanted),
  }
}

/** The same plank looked at closely. */
async function refinedOf({ clip, ffmpeg }: OpenClip, board: Board, found: FoundPlank): Promise<RefinedPlank | null> {
  const { video } = clip
  const step = Math.max(1, found.landedFrames.length / MOST_LANDED)
  const landed = found.landedFrames.filter((_, k) => Math.floor(k / step) !== Math.floor((k - 1) / step))
  const wanted = [found.rest.frame, ...landed, found.grounded.frame]
  const view = viewFor(video, undefined, Math.min(1, CLOSE_LONGEST_PX / Math.max(video.widthPx, video.heightPx)))
  const stills = await readStills(clip, ffmpeg, wanted, { view })
  const rest = stills.get(found.rest.frame)
  const later = [...stills.values()].filter(({ index }) => index !== found.rest.frame)
  return rest === undefined ? null : refinePlank(board, found, video, rest, later)
}

function adviceFor({ sawBorders }: FoundPlank, { board }: ClipToMark): string {
  const check = 'Usually a few pixels off: look at both ends in both frames, and nudge them.'
  if (board === null) return `${check} The board was taken to have the usual lengths, since none is chosen.`
  return sawBorders ? check : `${check} The zone borders were not seen, only computed from the board’s lengths.`
}

async function spreadPictures({ clip, ffmpeg }: OpenClip, wanted: ClipToMark): Promise<readonly Frame[]> {
  const { video } = clip
  const { stretch, slowMotionFactor } = wanted
  const times = video.fileTimesS
  const last = times.length - 1
  const [fromS, toS] = [stretch?.fromFrame ?? 0, stretch?.toFrame ?? last].map((k) => times[k]! / slowMotionFactor) as [
    number,
    number,
  ]
  const count = Math.min(MOST_PICTURES, Math.max(LEAST_PICTURES, PICTURES_HZ * (toS - fromS)))
  const longestPx = Math.max(video.widthPx, video.heightPx)
  const request = {
    fromS,
    toS,
    slowMotionFactor,
    view: viewFor(video, undefined, Math.min(1, LONGEST_PX / longestPx)),
    atMostHz: count / Math.max(0.1, toS - fromS),
  }
  const pictures: Frame[] = []
  for await (const frame of streamFrames(clip, ffmpeg, request)) pictures.push(copyFrame(frame))
  return pictures
}

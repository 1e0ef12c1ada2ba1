import type { Board } from '../../analysis/board/board.ts'
import { copyFrame, type Frame } from '../../analysis/clip/frame.ts'
import { viewFor } from '../../analysis/clip/view.ts'
import { findPlank, type FoundPlank } from '../../analysis/finding/find-plank.ts'
import { foundOffer, type MarksProposal, type NoPlank } from '../../analysis/finding/marks-offer.ts'
import { USUAL_BOARD } from '../../analysis/rules/rule-sets.ts'
import { streamFrames } from '../film/media/stream-frames.ts'
import type { ClipToMark } from './proposing-messages.ts'
import { closeLook, type OpenClip } from './close-look.ts'

/** Looked at in this size, longest side in px, which is enough to find the plank roughly. */
const LONGEST_PX = 640
/** Pictures spread over the clip: so many at least, and so many a s of real time, but not more than can be waited for. */
const LEAST_PICTURES = 40
const PICTURES_HZ = 5
const MOST_PICTURES = 120
/** The first of them show the board at rest, the last of them may show it landed. */
const RESTING_SHARE = 0.1
const LATER_SHARE = 0.3

/** The board of a clip, or a usual one until it is chosen. */
function boardOf({ board }: ClipToMark): Board {
  return board ?? USUAL_BOARD
}

/** A plank that the program found roughly, by its own motion; null where none tips. */
export async function roughlyFound(open: OpenClip, wanted: ClipToMark): Promise<FoundPlank | null> {
  const pictures = await spreadPictures(open, wanted)
  const resting = Math.max(3, Math.round(RESTING_SHARE * pictures.length))
  const later = pictures.slice(Math.max(resting, Math.round(LATER_SHARE * pictures.length)))
  if (later.length === 0) return null
  // Found whichever way it tips: what the set-up says may be wrong, and the window says so.
  return findPlank(pictures.slice(0, resting), later, boardOf(wanted), open.clip.video)
}

/** Marks of a plank that the program found by itself, or why none are offered. */
export async function foundProposal(
  open: OpenClip,
  wanted: ClipToMark,
  found: FoundPlank | null,
): Promise<MarksProposal | NoPlank> {
  if (found === null) return 'nothing-tips'
  const board = boardOf(wanted)
  return foundOffer(found, await closeLook(open, board, found, 'in-doubt'), board, wanted.board === null)
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

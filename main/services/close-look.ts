import type { Board } from '../../analysis/board/board.ts'
import { viewFor } from '../../analysis/clip/view.ts'
import type { FoundPlank } from '../../analysis/finding/find-plank.ts'
import { type NearEdge, type NotPlaced, type RefinedPlank, refinePlank } from '../../analysis/finding/refine-plank.ts'
import { evenlySpread } from '../../analysis/numeric/evenly-spread.ts'
import type { MediaFfmpeg, ProbedClip } from '../film/media/probed-clip.ts'
import { readStills } from '../film/media/read-stills.ts'

/** A clip with its file read. */
export interface OpenClip {
  readonly clip: ProbedClip
  readonly ffmpeg: MediaFfmpeg
}

/** So many pictures of the landed plank are looked at. */
const MOST_LANDED = 3
/** The board may touch the ground and spring back before the first of them: so long before it, s, so many are looked at. */
const BEFORE_S = 0.22
const MOST_BEFORE = 4
/** In this size, longest side in px. */
const LONGEST_PX = 1920

/** The same plank looked at closely, or why it could not be placed. */
export async function closeLook(
  { clip, ffmpeg }: OpenClip,
  board: Board,
  found: FoundPlank,
  nearEdge: NearEdge,
): Promise<RefinedPlank | NotPlaced> {
  const { video } = clip
  const spread = evenlySpread(found.landedFrames, MOST_LANDED)
  const view = viewFor(video, undefined, Math.min(1, LONGEST_PX / Math.max(video.widthPx, video.heightPx)))
  const frames = [
    found.rest.frame,
    ...justBefore(found.landedFrames[0], video.fileTimesS),
    ...spread,
    found.grounded.frame,
  ]
  const stills = await readStills(clip, ffmpeg, frames, { view })
  const rest = stills.get(found.rest.frame)
  const landed = [...stills.values()].filter(({ index }) => index !== found.rest.frame)
  if (rest === undefined || landed.length === 0) return 'too-little'
  return refinePlank(board, found, video, rest, landed, nearEdge)
}

/** Frames before one in which the board lies, in which it may lie lower still. */
function justBefore(lying: number | undefined, timesS: Float64Array): readonly number[] {
  if (lying === undefined) return []
  let first = lying
  while (first > 0 && timesS[lying]! - timesS[first - 1]! < BEFORE_S) first--
  return evenlySpread(
    Array.from({ length: lying - first }, (_, k) => first + k),
    MOST_BEFORE,
  )
}

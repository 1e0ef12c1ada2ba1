import type { Board } from '../../analysis/board/board.ts'
import type { RestMarks } from '../../analysis/board/marks.ts'
import { viewFor } from '../../analysis/clip/view.ts'
import type { FoundPlank } from '../../analysis/finding/find-plank.ts'
import { type RefinedPlank, refinePlank } from '../../analysis/finding/refine-plank.ts'
import { evenlySpread } from '../../analysis/numeric/evenly-spread.ts'
import { listInWords } from '../../analysis/words/in-words.ts'
import type { MediaFfmpeg, ProbedClip } from '../media/probed-clip.ts'
import { readStills } from '../media/read-stills.ts'

/** A clip with its file read. */
export interface OpenClip {
  readonly clip: ProbedClip
  readonly ffmpeg: MediaFfmpeg
}

/** Misfits beyond this are a wrong find, m on the plank. */
export const MOST_MISFIT_M = 0.015
/** So many pictures of the landed plank are looked at. */
const MOST_LANDED = 5
/** In this size, longest side in px. */
const LONGEST_PX = 1920

/** The same plank looked at closely; null where that shows too little. */
export async function refinedStills(
  { clip, ffmpeg }: OpenClip,
  board: Board,
  found: FoundPlank,
): Promise<RefinedPlank | null> {
  const { video } = clip
  const spread = evenlySpread(found.landedFrames, MOST_LANDED)
  const view = viewFor(video, undefined, Math.min(1, LONGEST_PX / Math.max(video.widthPx, video.heightPx)))
  const stills = await readStills(clip, ffmpeg, [found.rest.frame, ...spread, found.grounded.frame], { view })
  const rest = stills.get(found.rest.frame)
  const landed = [...stills.values()].filter(({ index }) => index !== found.rest.frame)
  if (rest === undefined || landed.length === 0) return null
  const refined = refinePlank(board, found, video, rest, landed)
  return refined === null || foundCount(refined) < LEAST_POINTS ? null : refined
}

/** Fewer are no help. */
const LEAST_POINTS = 3

/** How much of the plank a pixel is, m. */
export function metresPerPx(board: Board, { entryEnd, exitEnd }: Pick<RestMarks, 'entryEnd' | 'exitEnd'>): number {
  return board.lengthM / Math.hypot(exitEnd.xPx - entryEnd.xPx, exitEnd.yPx - entryEnd.yPx)
}

/** A sentence on the points that are not offered; null when all are. */
export function missingIn({ rest, grounded }: RefinedPlank): string | null {
  const names: readonly [unknown, string][] = [
    [rest.entryEnd, 'the entry end at rest'],
    [rest.exitEnd, 'the exit end at rest'],
    [rest.pivot, 'the pivot'],
    [rest.upContactEdge, 'the up contact border'],
    [rest.downContactEdge, 'the down contact border'],
    [grounded.entryEnd, 'the entry end with the exit end down'],
    [grounded.exitEnd, 'the exit end on the ground'],
  ]
  const missing = names.filter(([point]) => point === null).map(([, name]) => name)
  if (missing.length === 0) return null
  return `Not found well enough: ${listInWords(missing)}. Mark ${missing.length === 1 ? 'it' : 'them'} yourself.`
}

function foundCount({ rest, grounded }: RefinedPlank): number {
  return [...Object.values(rest), ...Object.values(grounded)].filter((one) => typeof one === 'object' && one !== null)
    .length
}

import { type Frame, copyFrame } from '../../../analysis/clip/frame.ts'
import { keyFrameBefore, planPicked } from './frame-plan.ts'
import type { FrameRequest } from './frame-request.ts'
import type { MediaFfmpeg, ProbedClip } from './probed-clip.ts'
import { framesOf } from './stream-frames.ts'

/** Decoding this many frames takes about as long as starting ffmpeg anew. */
const FRAMES_WORTH_A_START = 30
/** More would make ffmpeg's condition unwieldy. */
const MOST_AT_ONCE = 40

export type StillsRequest = Pick<FrameRequest, 'slowMotionFactor' | 'view' | 'greyOnly' | 'signal'>

/** One frame, decoded from the key frame before it; null where the clip is damaged. */
export async function readStill(
  clip: ProbedClip,
  ffmpeg: MediaFfmpeg,
  index: number,
  request: StillsRequest = {},
): Promise<Frame | null> {
  const stills = await readStills(clip, ffmpeg, [index], request)
  return stills.get(index) ?? null
}

/**
 * Decodes given frames, each from the key frame before it.
 *
 * @param indices display order; in any sequence, repeats allowed
 * @returns the frames by index; those that a damaged clip cannot give are missing
 */
export async function readStills(
  clip: ProbedClip,
  ffmpeg: MediaFfmpeg,
  indices: readonly number[],
  request: StillsRequest = {},
): Promise<ReadonlyMap<number, Frame>> {
  const stills = new Map<number, Frame>()
  for (const group of groupsToDecodeTogether(clip, indices)) {
    for await (const frame of framesOf(clip, ffmpeg, planPicked(clip, request, group), request)) {
      stills.set(frame.index, copyFrame(frame))
    }
  }
  return stills
}

/** Frames between which no key frame would save much decoding. */
export function groupsToDecodeTogether(clip: ProbedClip, indices: readonly number[]): number[][] {
  const groups: number[][] = []
  for (const index of [...new Set(indices)].sort((a, b) => a - b)) {
    if (clip.video.fileTimesS[index] === undefined) throw new RangeError(`The clip has no frame ${index}.`)
    const group = groups.at(-1)
    const previous = group?.at(-1)
    const joins = previous !== undefined && keyFrameBefore(clip.video, index) - previous < FRAMES_WORTH_A_START
    if (group !== undefined && joins && group.length < MOST_AT_ONCE) group.push(index)
    else groups.push([index])
  }
  return groups
}

import { type Frame, type View, copyFrame } from '../../analysis/clip/frame.ts'
import { viewFor } from '../../analysis/clip/view.ts'
import { unreadableClip } from './ffmpeg-complaint.ts'
import { guardedInputArgs, runFfmpeg } from './ffmpeg-run.ts'
import { keyFrameBefore, pictureFilters, planPicked } from './frame-plan.ts'
import type { FrameRequest } from './frame-request.ts'
import type { MediaFfmpeg, ProbedClip } from './probed-clip.ts'
import { framesOf } from './stream-frames.ts'

/** Decoding this many frames takes about as long as starting ffmpeg anew. */
const FRAMES_WORTH_A_START = 30
/** More would make ffmpeg's condition unwieldy. */
const MOST_AT_ONCE = 40

export type StillsRequest = Pick<FrameRequest, 'slowMotionFactor' | 'view' | 'greyOnly' | 'signal'>

/**
 * Decodes given frames, each from the key frame before it.
 *
 * @param indices display order, any order, repeats allowed
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
function groupsToDecodeTogether(clip: ProbedClip, indices: readonly number[]): number[][] {
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

export interface PictureRequest {
  readonly as: 'png' | 'jpeg'
  /** Default the whole picture at full size. */
  readonly view?: View
  readonly signal?: AbortSignal
}

/** One frame as the bytes of a picture file, in colour. Throws a `ClipProblem` when it cannot be decoded. */
export async function readPicture(
  clip: ProbedClip,
  ffmpeg: MediaFfmpeg,
  index: number,
  request: PictureRequest,
): Promise<Buffer> {
  if (clip.video.fileTimesS[index] === undefined) throw new RangeError(`The clip has no frame ${index}.`)
  const { path, format, video } = clip
  const { seekRawS, decoderArgs, select } = planPicked(clip, {}, [index])
  const seek = seekRawS === null ? {} : { seekRawS }
  const filters = [...select, ...pictureFilters(video, request.view ?? viewFor(video), false)]
  const chunks: Buffer[] = []
  const args = [
    ...guardedInputArgs({ path, format, decoderArgs, ...seek }),
    ...['-map', `0:${video.streamIndex}`, ...ffmpeg.features.passthroughArgs, '-vf', filters.join(), '-frames:v', '1'],
    ...(request.as === 'png'
      ? ['-c:v', 'png', '-pix_fmt', 'rgb24']
      : ['-c:v', 'mjpeg', '-pix_fmt', 'yuvj420p', '-q:v', '3']),
    ...['-f', 'image2pipe', 'pipe:1'],
  ]
  const { signal } = request
  const end = await runFfmpeg(ffmpeg.ffmpegPath, args, { output: (chunk) => chunks.push(chunk), signal })
  if (end.problem !== null) throw end.problem
  if (chunks.length === 0) throw unreadableClip(clip.fileName, end.complaints)
  return Buffer.concat(chunks)
}

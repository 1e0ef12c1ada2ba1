import type { Frame, View } from '../../../analysis/clip/frame.ts'
import { decodePictures } from './decode-pictures.ts'
import { DamageMarker } from './decoder-damage.ts'
import { guardedInputArgs } from './ffmpeg-run.ts'
import { type FramePlan, decoderThreads, pictureBytes, planFrames } from './frame-plan.ts'
import type { FrameRequest } from './frame-request.ts'
import type { MediaFfmpeg, ProbedClip } from './probed-clip.ts'
import { RawCutter } from './raw-cutter.ts'

/** Decoded frames that may wait for the reader. */
const BUFFERED_FRAMES = 4

/**
 * Decodes the frames of a request one after another, each with its index and exact timestamp.
 * ffmpeg waits when the reader is slow and is ended when the reader stops. The arrays of a frame are overwritten as
 * soon as the next one is asked for: `copyFrame` those to be kept. Frames of a damaged
 * part are marked, or left out, and the clip may end early; one of which nothing can be decoded throws a `ClipProblem`.
 */
export async function* streamFrames(
  clip: ProbedClip,
  ffmpeg: MediaFfmpeg,
  request: FrameRequest = {},
): AsyncGenerator<Frame, void, void> {
  const plan = planFrames(clip, request)
  if (plan !== null) yield* framesOf(clip, ffmpeg, plan, request)
}

/** The frames of a plan. */
export async function* framesOf(
  clip: ProbedClip,
  ffmpeg: MediaFfmpeg,
  plan: FramePlan,
  { slowMotionFactor = 1, depth = 'all', signal }: Pick<FrameRequest, 'slowMotionFactor' | 'depth' | 'signal'>,
): AsyncGenerator<Frame, void, void> {
  const { firstIndex, lastIndex, seekRawS } = plan
  const damage = new DamageMarker(clip.video, decoderThreads(clip.video))
  const order = {
    firstIndex,
    lastIndex,
    seekRawS,
    mustStartAtFirst: depth === 'all',
    args: (from: number | null) => decodeArgs(clip, ffmpeg, plan, from),
    cutter: () => new RawCutter(pictureBytes(plan), BUFFERED_FRAMES),
  }
  for await (const { index, picture, complaints } of decodePictures(clip, ffmpeg, order, signal)) {
    const ptsS = (clip.video.fileTimesS[index] ?? 0) / slowMotionFactor
    yield frameFrom(picture, index, ptsS, damage.isDamaged(index, complaints, plan.takesEveryFrame), plan)
  }
}

function decodeArgs(clip: ProbedClip, ffmpeg: MediaFfmpeg, plan: FramePlan, seekRawS: number | null): string[] {
  const { path, format, video } = clip
  const seek = seekRawS === null ? {} : { seekRawS }
  return [
    ...guardedInputArgs({ path, format, decoderArgs: plan.decoderArgs, ...seek }),
    ...['-map', `0:${video.streamIndex}`, ...ffmpeg.features.passthroughArgs, '-vf', plan.filter],
    ...['-c:v', 'rawvideo', '-f', 'rawvideo', 'pipe:1'],
  ]
}

function frameFrom(
  bytes: Uint8Array,
  index: number,
  ptsS: number,
  isDamaged: boolean,
  plan: { view: View; greyOnly: boolean },
): Frame {
  const lumaBytes = plan.view.widthPx * plan.view.heightPx
  const chromaBytes = plan.greyOnly ? 0 : lumaBytes / 4
  return {
    index,
    ptsS,
    view: plan.view,
    y: bytes.subarray(0, lumaBytes),
    u: bytes.subarray(lumaBytes, lumaBytes + chromaBytes),
    v: bytes.subarray(lumaBytes + chromaBytes, lumaBytes + 2 * chromaBytes),
    isDamaged,
  }
}

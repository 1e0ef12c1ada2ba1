import type { Frame, View } from '../../analysis/clip/frame.ts'
import { DamageMarker, saysDamage } from './decoder-damage.ts'
import { unreadableClip } from './ffmpeg-complaint.ts'
import { guardedInputArgs, startFfmpeg } from './ffmpeg-run.ts'
import { type FramePlan, decoderThreads, pictureBytes, planFrames } from './frame-plan.ts'
import type { FrameRequest } from './frame-request.ts'
import { printedNumber } from './frame-times.ts'
import { PictureQueue } from './picture-queue.ts'
import type { MediaFfmpeg, ProbedClip } from './probed-clip.ts'

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
  request: Pick<FrameRequest, 'slowMotionFactor' | 'depth' | 'signal'>,
): AsyncGenerator<Frame, void, void> {
  const mustStartAtFirst = plan.seekRawS !== null && (request.depth ?? 'all') === 'all'
  let isFirst = true
  for await (const frame of decode(clip, ffmpeg, plan, request)) {
    if (isFirst && mustStartAtFirst && frame.index !== plan.firstIndex) {
      // The jump went too far: decode from the start of the file instead.
      yield* decode(clip, ffmpeg, { ...plan, seekRawS: null }, request)
      return
    }
    isFirst = false
    yield frame
  }
}

async function* decode(
  clip: ProbedClip,
  ffmpeg: MediaFfmpeg,
  plan: FramePlan,
  request: Pick<FrameRequest, 'slowMotionFactor' | 'signal'>,
): AsyncGenerator<Frame, void, void> {
  const { signal } = request
  signal?.throwIfAborted()
  const queue = new PictureQueue(pictureBytes(plan), BUFFERED_FRAMES)
  const run = startFfmpeg(ffmpeg.ffmpegPath, decodeArgs(clip, ffmpeg, plan), (line) => {
    const rawS = printedNumber(line)
    if (rawS !== null) queue.putTime(rawS)
    else if (saysDamage(line)) queue.putComplaint()
  })
  run.stdout.on('data', (chunk: Buffer) => {
    const hasRoom = queue.put(chunk)
    run.setWaiting(hasRoom)
    if (!hasRoom) run.stdout.pause()
  })
  void run.ended.then(() => queue.end())
  const onAbort = () => {
    run.stop()
    queue.end()
  }
  signal?.addEventListener('abort', onAbort, { once: true })
  const damage = new DamageMarker(clip.video, decoderThreads(clip.video))
  let index = plan.firstIndex - 1
  try {
    for (let picture = await queue.take(); picture !== null; picture = await queue.take()) {
      signal?.throwIfAborted()
      const found = indexAt(clip.video.fileTimesS, picture.rawS - clip.video.firstRawS, index + 1)
      if (found !== null) {
        index = found
        const ptsS = (clip.video.fileTimesS[index] ?? 0) / (request.slowMotionFactor ?? 1)
        const isDamaged = damage.isDamaged(index, picture.complaints, plan.takesEveryFrame)
        yield frameFrom(picture.bytes, index, ptsS, isDamaged, plan)
        if (index === plan.lastIndex) return
      }
      if (queue.giveBack(picture.bytes) && run.stdout.isPaused()) {
        run.setWaiting(true)
        run.stdout.resume()
      }
    }
    signal?.throwIfAborted()
    const end = await run.ended
    if (end.problem !== null) throw end.problem
    if (index < plan.firstIndex && end.exitCode !== 0) throw unreadableClip(clip.fileName, end.complaints)
  } finally {
    signal?.removeEventListener('abort', onAbort)
    run.stop()
  }
}

function decodeArgs(clip: ProbedClip, ffmpeg: MediaFfmpeg, plan: FramePlan): string[] {
  const { path, format, video } = clip
  const seek = plan.seekRawS === null ? {} : { seekRawS: plan.seekRawS }
  return [
    ...guardedInputArgs({ path, format, decoderArgs: plan.decoderArgs, ...seek }),
    ...['-map', `0:${video.streamIndex}`, ...ffmpeg.features.passthroughArgs, '-vf', plan.filter],
    ...['-c:v', 'rawvideo', '-f', 'rawvideo', 'pipe:1'],
  ]
}

/** The frame whose time is nearest, from index `from` on; null when an earlier one would be nearer. */
export function indexAt(times: Float64Array, fileS: number, from: number): number | null {
  if (Number.isNaN(fileS)) return null
  let index = from
  const distanceS = (i: number) => Math.abs((times[i] ?? Infinity) - fileS)
  while (distanceS(index + 1) < distanceS(index)) index++
  if (index >= times.length) return null
  return index > 0 && index === from && distanceS(index - 1) < distanceS(index) ? null : index
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

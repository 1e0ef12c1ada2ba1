import { decodePictures } from '../media/decode-pictures.ts'
import { guardedInputArgs } from '../media/ffmpeg-run.ts'
import { between, chosenFrames, decoderThreads, pickedCondition, type FrameChoice } from '../media/frame-plan.ts'
import type { PictureCutter } from '../media/picture-queue.ts'
import type { MediaFfmpeg, ProbedClip, VideoTrack } from '../media/probed-clip.ts'
import { JpegParts } from './jpeg-parts.ts'

/** One frame of a clip as a JPEG file; the index counts in display order. */
export interface FrameJpeg {
  readonly index: number
  readonly jpeg: Buffer
}

/** How large and how fine pictures are made. */
export interface JpegLook {
  /** Longest side at most, px; larger clips are made smaller, smaller ones stay. */
  readonly longestPx: number
  /** ffmpeg's scale, 2 (finest) to 31. */
  readonly coarseness: number
}

/** Which frames: from one to another, both included, or single ones in rising order. */
export type WantedFrames =
  | { readonly kind: 'range'; readonly firstIndex: number; readonly lastIndex: number }
  | { readonly kind: 'picked'; readonly indices: readonly number[] }

/** Pictures that may wait for the reader before ffmpeg has to. */
const MOST_WAITING = 32

/**
 * Decodes frames of a clip and gives each as a JPEG file, in display order. They are told apart by their timestamps, as
 * in measuring: number `i` here is number `i` there. Frames that a damaged clip cannot give are left out.
 */
export async function* frameJpegs(
  clip: ProbedClip,
  ffmpeg: MediaFfmpeg,
  wanted: WantedFrames,
  look: JpegLook,
  signal: AbortSignal,
): AsyncGenerator<FrameJpeg, void, void> {
  const [first, last] = wanted.kind === 'range' ? [wanted.firstIndex, wanted.lastIndex] : ends(wanted.indices)
  const condition =
    wanted.kind === 'range' ? between(clip.video, first, last) : pickedCondition(clip.video, wanted.indices)
  const choice = chosenFrames(clip, first, last, condition)
  const order = {
    firstIndex: first,
    lastIndex: last,
    seekRawS: choice.seekRawS,
    mustStartAtFirst: true,
    args: (seekRawS: number | null) => jpegArgs(clip, ffmpeg, { ...choice, seekRawS }, look),
    cutter: () => new JpegCutter(),
  }
  for await (const { index, picture } of decodePictures(clip, ffmpeg, order, signal)) yield { index, jpeg: picture }
}

/** JPEG files as they come; what comes while the reader is slow is held, and ffmpeg waits. */
class JpegCutter implements PictureCutter<Buffer> {
  readonly #parts = new JpegParts()
  readonly #whole: Buffer[] = []

  put(chunk: Buffer): boolean {
    this.#whole.push(...this.#parts.put(chunk))
    return this.#whole.length <= MOST_WAITING
  }

  take(): Buffer | null {
    return this.#whole.shift() ?? null
  }

  giveBack(): boolean {
    return this.#whole.length === 0
  }
}

function ends(indices: readonly number[]): [number, number] {
  return [indices[0] ?? 0, indices.at(-1) ?? 0]
}

function jpegArgs(clip: ProbedClip, ffmpeg: MediaFfmpeg, choice: FrameChoice, look: JpegLook): string[] {
  const { path, format, video } = clip
  const seek = choice.seekRawS === null ? {} : { seekRawS: choice.seekRawS }
  const decoderArgs = ['-threads', String(decoderThreads(video))]
  const { widthPx, heightPx } = shownSize(video, look.longestPx)
  const filters = [
    ...choice.filters,
    `scale=${widthPx}:${heightPx}:flags=bilinear:out_range=pc`,
    'format=yuvj420p',
    // The encoder refuses two pictures in one tick of its clock, which uneven frames would bring: it gets its own times.
    'setpts=100*N/TB',
  ]
  return [
    ...guardedInputArgs({ path, format, decoderArgs, ...seek }),
    ...['-map', `0:${video.streamIndex}`, ...ffmpeg.features.passthroughArgs, '-vf', filters.join()],
    ...['-c:v', 'mjpeg', '-q:v', String(look.coarseness), '-f', 'mpjpeg', 'pipe:1'],
  ]
}

/** The size of a clip's pictures when no side may be longer than given, px. */
function shownSize(
  video: Pick<VideoTrack, 'widthPx' | 'heightPx'>,
  longestPx: number,
): { widthPx: number; heightPx: number } {
  const scale = Math.min(1, longestPx / Math.max(video.widthPx, video.heightPx))
  const side = (px: number) => Math.max(2, Math.round(px * scale))
  return { widthPx: side(video.widthPx), heightPx: side(video.heightPx) }
}

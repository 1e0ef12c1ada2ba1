import { unreadableClip } from '../media/ffmpeg-complaint.ts'
import { guardedInputArgs, startFfmpeg } from '../media/ffmpeg-run.ts'
import { between, chosenFrames, decoderThreads, pickedCondition, type FrameChoice } from '../media/frame-plan.ts'
import { printedNumber } from '../media/frame-times.ts'
import type { MediaFfmpeg, ProbedClip, VideoTrack } from '../media/probed-clip.ts'
import { indexAt } from '../media/stream-frames.ts'
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
  let isFirst = true
  for await (const frame of decode(clip, ffmpeg, choice, first, last, look, signal)) {
    if (isFirst && choice.seekRawS !== null && frame.index !== first) {
      // The jump went too far: decode from the start of the file instead.
      yield* decode(clip, ffmpeg, { ...choice, seekRawS: null }, first, last, look, signal)
      return
    }
    isFirst = false
    yield frame
  }
}

function ends(indices: readonly number[]): [number, number] {
  return [indices[0] ?? 0, indices.at(-1) ?? 0]
}

async function* decode(
  clip: ProbedClip,
  ffmpeg: MediaFfmpeg,
  choice: FrameChoice,
  firstIndex: number,
  lastIndex: number,
  look: JpegLook,
  signal: AbortSignal,
): AsyncGenerator<FrameJpeg, void, void> {
  signal.throwIfAborted()
  const times: number[] = []
  const pictures: Buffer[] = []
  const parts = new JpegParts()
  let hasEnded = false
  let garbled: Error | null = null as Error | null
  let wake: () => void = () => undefined
  const run = startFfmpeg(ffmpeg.ffmpegPath, jpegArgs(clip, ffmpeg, choice, look), (line) => {
    const rawS = printedNumber(line)
    if (rawS !== null) times.push(rawS)
    wake()
  })
  run.stdout.on('data', (chunk: Buffer) => {
    try {
      pictures.push(...parts.put(chunk))
    } catch (error) {
      // Thrown here it would end the process: whoever waits for pictures is told.
      garbled = error instanceof Error ? error : new Error(String(error))
      run.stop()
      return
    }
    if (pictures.length > MOST_WAITING) {
      run.stdout.pause()
      run.setWaiting(false)
    } else run.setWaiting(true)
    wake()
  })
  void run.ended.then(() => {
    hasEnded = true
    wake()
  })
  const onAbort = () => {
    run.stop()
    wake()
  }
  signal.addEventListener('abort', onAbort, { once: true })
  let index = firstIndex - 1
  try {
    for (;;) {
      signal.throwIfAborted()
      if (pictures.length > 0 && times.length > 0) {
        const [rawS, jpeg] = [times.shift()!, pictures.shift()!]
        const found = indexAt(clip.video.fileTimesS, rawS - clip.video.firstRawS, index + 1)
        if (found !== null) {
          index = found
          yield { index, jpeg }
          if (index === lastIndex) return
        }
        if (pictures.length === 0 && run.stdout.isPaused()) {
          run.setWaiting(true)
          run.stdout.resume()
        }
      } else if (hasEnded) break
      else await new Promise<void>((resolve) => (wake = resolve))
    }
    if (garbled !== null) throw garbled
    const end = await run.ended
    if (end.problem !== null) throw end.problem
    if (index < firstIndex && end.exitCode !== 0) throw unreadableClip(clip.fileName, end.complaints)
  } finally {
    signal.removeEventListener('abort', onAbort)
    run.stop()
  }
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

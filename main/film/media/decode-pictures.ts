import { saysDamage } from './decoder-damage.ts'
import { unreadableClip } from './ffmpeg-complaint.ts'
import { startFfmpeg } from './ffmpeg-run.ts'
import { printedNumber } from './frame-times.ts'
import { type PictureCutter, PictureQueue } from './picture-queue.ts'
import type { MediaFfmpeg, ProbedClip } from './probed-clip.ts'

/** What ffmpeg is to decode, and how its pictures are cut from what it writes. */
export interface DecodeOrder<Picture> {
  /** First and last frame wanted, display order. */
  readonly firstIndex: number
  readonly lastIndex: number
  /** Where decoding starts, raw s; null: at the start of the file. */
  readonly seekRawS: number | null
  /** True where another first frame means that the jump went too far. */
  readonly mustStartAtFirst: boolean
  /** ffmpeg's arguments for a start at `seekRawS`; its log must tell the timestamp of every picture that it writes. */
  readonly args: (seekRawS: number | null) => readonly string[]
  readonly cutter: () => PictureCutter<Picture>
}

/** A picture and which frame of the clip it is, display order. */
export interface DecodedPicture<Picture> {
  readonly index: number
  readonly picture: Picture
  /** How many complaints of the decoder had come before it. */
  readonly complaints: number
}

/**
 * Decodes pictures one after another and tells by their timestamps which frames they are. ffmpeg waits when the reader
 * is slow and is ended when the reader stops. A picture may be overwritten as soon as the next one is asked for. A clip
 * of which nothing can be decoded throws a `ClipProblem`.
 */
export async function* decodePictures<Picture>(
  clip: ProbedClip,
  ffmpeg: MediaFfmpeg,
  order: DecodeOrder<Picture>,
  signal: AbortSignal | undefined,
): AsyncGenerator<DecodedPicture<Picture>, void, void> {
  let isFirst = true
  for await (const one of decodeFrom(order.seekRawS, clip, ffmpeg, order, signal)) {
    if (isFirst && order.mustStartAtFirst && order.seekRawS !== null && one.index !== order.firstIndex) {
      // The jump went too far: decode from the start of the file instead.
      yield* decodeFrom(null, clip, ffmpeg, order, signal)
      return
    }
    isFirst = false
    yield one
  }
}

async function* decodeFrom<Picture>(
  seekRawS: number | null,
  clip: ProbedClip,
  ffmpeg: MediaFfmpeg,
  { firstIndex, lastIndex, args, cutter }: DecodeOrder<Picture>,
  signal: AbortSignal | undefined,
): AsyncGenerator<DecodedPicture<Picture>, void, void> {
  signal?.throwIfAborted()
  const queue = new PictureQueue(cutter())
  let garbled: Error | null = null as Error | null
  const run = startFfmpeg(ffmpeg.ffmpegPath, args(seekRawS), (line) => {
    const rawS = printedNumber(line)
    if (rawS !== null) queue.putTime(rawS)
    else if (saysDamage(line)) queue.putComplaint()
  })
  run.stdout.on('data', (chunk: Buffer) => {
    try {
      const hasRoom = queue.put(chunk)
      run.setWaiting(hasRoom)
      if (!hasRoom) run.stdout.pause()
    } catch (error) {
      // Thrown here it would end the process: whoever waits for pictures is told.
      garbled = error instanceof Error ? error : new Error(String(error))
      run.stop()
    }
  })
  void run.ended.then(() => queue.end())
  const onAbort = () => {
    run.stop()
    queue.end()
  }
  signal?.addEventListener('abort', onAbort, { once: true })
  let index = firstIndex - 1
  try {
    for (let one = await queue.take(); one !== null; one = await queue.take()) {
      signal?.throwIfAborted()
      const found = indexAt(clip.video.fileTimesS, one.rawS - clip.video.firstRawS, index + 1)
      if (found !== null) {
        index = found
        yield { index, picture: one.picture, complaints: one.complaints }
        if (index === lastIndex) return
      }
      if (queue.giveBack(one.picture) && run.stdout.isPaused()) {
        run.setWaiting(true)
        run.stdout.resume()
      }
    }
    signal?.throwIfAborted()
    if (garbled !== null) throw garbled
    const end = await run.ended
    if (end.problem !== null) throw end.problem
    if (index < firstIndex && end.exitCode !== 0) throw unreadableClip(clip.fileName, end.complaints)
  } finally {
    signal?.removeEventListener('abort', onAbort)
    run.stop()
  }
}

/** The frame whose time is nearest, from index `from` on; null when an earlier one would be nearer. */
function indexAt(times: Float64Array, fileS: number, from: number): number | null {
  if (Number.isNaN(fileS)) return null
  let index = from
  const distanceS = (i: number) => Math.abs((times[i] ?? Infinity) - fileS)
  while (distanceS(index + 1) < distanceS(index)) index++
  if (index >= times.length) return null
  return index > 0 && index === from && distanceS(index - 1) < distanceS(index) ? null : index
}

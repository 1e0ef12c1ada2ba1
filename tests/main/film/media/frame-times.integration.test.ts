import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { type Frame, copyFrame } from '../../../../analysis/clip/frame.ts'
import type { MediaFfmpeg, ProbedClip } from '../../../../main/film/media/probed-clip.ts'
import { streamFrames } from '../../../../main/film/media/stream-frames.ts'
import { ffprobeFrameTimes, forEachFfmpeg } from './each-ffmpeg.ts'
import { type Recipe, clipFolder, exactTimes, ffmpeg, h264, makeClip, numberIn, tone, uneven } from './made-clips.ts'
import { probedOnce } from './probed-once.ts'

const folder = clipFolder()
afterAll(folder.remove)

interface Kind {
  readonly name: string
  readonly recipe: Recipe
  readonly codec: string
  readonly bitDepth?: number
}

const aac = ['-c:a', 'aac', '-shortest']
const hevc10 = [
  '-c:v',
  'libx265',
  '-preset',
  'ultrafast',
  '-x265-params',
  'log-level=0:keyint=12:bframes=3',
  '-crf',
  '10',
]
const kinds: readonly Kind[] = [
  { name: 'even.mp4', codec: 'h264', recipe: { second: tone, encode: [...h264, ...aac] } },
  { name: 'uneven.mp4', codec: 'h264', recipe: { filters: [uneven], encode: [...h264, ...exactTimes] } },
  { name: 'uneven.mkv', codec: 'h264', recipe: { filters: [uneven], encode: [...h264, ...exactTimes] } },
  { name: 'fast.mov', codec: 'h264', recipe: { rateHz: 240, frames: 120 } },
  { name: 'ntsc.mp4', codec: 'h264', recipe: { filters: ['settb=1001/30000', 'setpts=N'] } },
  {
    name: 'deep.mp4',
    codec: 'hevc',
    bitDepth: 10,
    recipe: { encode: [...hevc10, '-pix_fmt', 'yuv420p10le', '-tag:v', 'hvc1'] },
  },
  {
    name: 'vp9.webm',
    codec: 'vp9',
    recipe: {
      second: tone,
      encode: [
        '-c:v',
        'libvpx-vp9',
        '-deadline',
        'realtime',
        '-cpu-used',
        '8',
        '-b:v',
        '2M',
        '-g',
        '12',
        '-c:a',
        'libopus',
        '-shortest',
      ],
    },
  },
  {
    name: 'hidden-frames.webm',
    codec: 'vp8',
    recipe: { encode: ['-c:v', 'libvpx', '-auto-alt-ref', '1', '-lag-in-frames', '16', '-b:v', '2M', '-g', '25'] },
  },
  { name: 'reordered.avi', codec: 'h264', recipe: { encode: h264 } },
  { name: 'packed.avi', codec: 'mpeg4', recipe: { encode: ['-c:v', 'mpeg4', '-bf', '2', '-g', '12', '-q:v', '2'] } },
  { name: 'camcorder.mts', codec: 'h264', recipe: { encode: [...h264, '-f', 'mpegts'] } },
  { name: 'in-pieces.mp4', codec: 'h264', recipe: { encode: [...h264, '-movflags', 'frag_keyframe+empty_moov'] } },
]

beforeAll(async () => {
  for (const { name, recipe } of kinds) await makeClip(folder.path(name), recipe)
  // A phone's own trimming: the file starts at a key frame, and the first frames are marked as not shown.
  await ffmpeg(['-ss', '0.5', '-i', folder.path('even.mp4'), '-c', 'copy', folder.path('trimmed.mp4')])
})

forEachFfmpeg((engine) => {
  describe.each([...kinds, { name: 'trimmed.mp4', codec: 'h264', recipe: {} } satisfies Kind])(
    '$name',
    (kind: Kind) => {
      test('is probed with the frame times that ffprobe finds by decoding', async (context) => {
        const clip = await probedOnce(folder.path(kind.name), engine())
        const reference = await ffprobeFrameTimes(context, folder.path(kind.name))
        expect(clip.video).toMatchObject({
          codec: kind.codec,
          bitDepth: kind.bitDepth ?? 8,
          widthPx: 160,
          heightPx: 96,
        })
        expect(clip.video.fileTimesS.length).toBe(reference.length)
        // ffprobe gives no time for the last frames of an AVI with reordered frames.
        expect(reference.filter(Number.isNaN).length).toBeLessThanOrEqual(kind.name.endsWith('.avi') ? 2 : 0)
        expect(
          worstDifference(
            clip.video.fileTimesS,
            reference.map((t) => t - reference[0]!),
          ),
        ).toBeLessThan(2.1e-6)
        expect(clip.video.isKeyFrame[0]).toBe(kind.name === 'trimmed.mp4' ? 0 : 1)
        expect(clip.notes).toEqual([])
      })

      test('is decoded whole, every picture with its own index and time', async () => {
        const { clip, frames } = await decodedWhole(kind.name, engine())
        expect(frames.map((frame) => frame.index)).toEqual([...clip.video.fileTimesS.keys()])
        expect(frames.map((frame) => frame.ptsS)).toEqual([...clip.video.fileTimesS])
        const firstNumber = numberIn(frames[0]!)
        expect(firstNumber).toBe(kind.name === 'trimmed.mp4' ? 15 : 0)
        expect(frames.map((frame) => numberIn(frame) - firstNumber)).toEqual([...clip.video.fileTimesS.keys()])
      })

      test('gives the same pictures when it is entered in the middle', async () => {
        const clip = await probedOnce(folder.path(kind.name), engine())
        const times = clip.video.fileTimesS
        const range = { fromS: times[20]!, toS: times[33]! }
        const { frames } = await decoded(kind.name, engine(), range)
        const all = (await decodedWhole(kind.name, engine())).frames.slice(20, 34)
        expect(frames.map(numberAndTime)).toEqual(all.map(numberAndTime))
      })
    },
  )
})

interface Decoded {
  readonly clip: ProbedClip
  readonly frames: readonly Frame[]
}

const whole = new Map<string, Promise<Decoded>>()

/** All frames of a clip, decoded once an ffmpeg. */
function decodedWhole(name: string, engine: MediaFfmpeg): Promise<Decoded> {
  const key = `${engine.ffmpegPath} ${name}`
  const frames = whole.get(key) ?? decoded(name, engine)
  whole.set(key, frames)
  return frames
}

async function decoded(
  name: string,
  engine: MediaFfmpeg,
  range: { fromS?: number; toS?: number } = {},
): Promise<Decoded> {
  const clip = await probedOnce(folder.path(name), engine)
  const frames: Frame[] = []
  for await (const frame of streamFrames(clip, engine, range)) frames.push(copyFrame(frame))
  return { clip, frames }
}

function numberAndTime(frame: Frame): string {
  return `${frame.index} at ${frame.ptsS} s shows ${numberIn(frame)}`
}

function worstDifference(a: ArrayLike<number>, b: readonly number[]): number {
  return Math.max(...b.filter(Number.isFinite).map((value, i) => Math.abs(value - (a[i] ?? NaN))))
}

import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { type Frame, copyFrame } from '../../../../analysis/clip/frame.ts'
import { viewFor } from '../../../../analysis/clip/view.ts'
import type { FrameRequest } from '../../../../main/film/media/frame-request.ts'
import { probeClip } from '../../../../main/film/media/probe-clip.ts'
import type { MediaFfmpeg, ProbedClip } from '../../../../main/film/media/probed-clip.ts'
import { readStill, readStills } from '../../../../main/film/media/read-stills.ts'
import { streamFrames } from '../../../../main/film/media/stream-frames.ts'
import { forEachFfmpeg } from './each-ffmpeg.ts'
import { clipFolder, ffmpeg, h264, makeClip, numberIn, storedLuma } from './made-clips.ts'
import { probedOnce } from './probed-once.ts'

const folder = clipFolder()
afterAll(folder.remove)

const turns = [90, 180, 270]
/** As sharp as an eight-bit copy can be. */
const lossless = ['-c:v', 'libx264', '-preset', 'ultrafast', '-qp', '0', '-g', '12']

beforeAll(async () => {
  await makeClip(folder.path('plain.mp4'))
  await makeClip(folder.path('long.mp4'), { frames: 240, encode: [...h264, '-g', '40'] })
  await makeClip(folder.path('ramp.mp4'), { frames: 3, encode: [...lossless, '-pix_fmt', 'yuv420p'] })
  for (const turn of turns) {
    // ffmpeg of that time counts counter-clockwise here.
    const rotate = ['-c', 'copy', '-metadata:s:v:0', `rotate=${360 - turn}`]
    await ffmpeg(['-i', folder.path('plain.mp4'), ...rotate, folder.path(`turned-${turn}.mov`)])
  }
  await makeClip(folder.path('odd.mov'), {
    filters: ['format=yuv444p', 'pad=161:97:0:0', 'format=yuv420p'],
    encode: ['-c:v', 'mpeg4', '-q:v', '2', '-g', '12'],
  })
  await makeClip(folder.path('wide.mp4'), { filters: ['setsar=4/3'], encode: [...lossless, '-pix_fmt', 'yuv420p'] })
  await makeClip(folder.path('full-range.mp4'), {
    filters: ['scale=out_range=pc'],
    encode: [...lossless, '-pix_fmt', 'yuvj420p'],
  })
})

forEachFfmpeg((engine) => {
  describe.each(turns)('a picture to be turned by %i degrees', (turn) => {
    test('is probed and decoded as displayed', async () => {
      const { clip, frames } = await decoded(`turned-${turn}.mov`, engine())
      const size = turn === 180 ? { widthPx: 160, heightPx: 96 } : { widthPx: 96, heightPx: 160 }
      expect(clip.video).toMatchObject({ ...size, rotationDeg: turn })
      expect(frames[0]?.view).toMatchObject({ ...size, scale: 1 })
      expect(frames.map((frame) => numberIn(frame, turn))).toEqual([...clip.video.fileTimesS.keys()])
    })

    test('is cropped in displayed px', async () => {
      const { frames: whole } = await decoded(`turned-${turn}.mov`, engine())
      const clip = await probedOnce(folder.path(`turned-${turn}.mov`), engine())
      const view = viewFor(clip.video, { xPx: 20, yPx: 10, widthPx: 60, heightPx: 70 })
      const { frames } = await decoded(`turned-${turn}.mov`, engine(), { view })
      for (const [column, row] of [
        [3, 5],
        [59, 69],
      ] as const) {
        const cropped = frames[7]!.y[row * view.widthPx + column]
        expect(cropped).toBe(whole[7]!.y[(row + 10) * clip.video.widthPx + column + 20])
      }
    })
  })

  test('a view shows the place that it says, at whole and fractional scales', async () => {
    const clip = await probedOnce(folder.path('ramp.mp4'), engine())
    for (const atMost of [1, 2 / 3, 1 / 2, 3 / 8]) {
      const view = viewFor(clip.video, { xPx: 24, yPx: 40, widthPx: 96, heightPx: 48 }, atMost)
      expect(view.scale).toBeCloseTo(atMost, 12)
      const { frames } = await decoded('ramp.mp4', engine(), { view })
      for (const column of [4, 9, view.widthPx - 5]) {
        // Luma is 40 + x at the px whose centre is x + 0.5.
        const xPx = (column + 0.5) / view.scale + view.originXPx
        const luma = frames[0]!.y[4 * view.widthPx + column] ?? NaN
        expect(Math.abs(luma - (40 + xPx - 0.5))).toBeLessThanOrEqual(0.75)
      }
    }
  })

  test('a picture of odd size loses its last column and row, nothing else', async () => {
    const { clip, frames } = await decoded('odd.mov', engine())
    expect(clip.video).toMatchObject({ widthPx: 161, heightPx: 97 })
    expect(frames[0]?.view).toEqual({ widthPx: 160, heightPx: 96, originXPx: 0, originYPx: 0, scale: 1 })
    expect(frames.map((frame) => numberIn(frame))).toEqual([...clip.video.fileTimesS.keys()])
  })

  test('a picture with wide pixels is stretched to square ones', async () => {
    const { clip, frames } = await decoded('wide.mp4', engine())
    expect(clip.video).toMatchObject({ widthPx: 213, heightPx: 96, isSquare: false })
    const { y, view } = frames[0]!
    // Stored luma is 40 + x; displayed x is 213 / 160 as far.
    for (const column of [30, 100, 180]) {
      const storedX = ((column + 0.5) * 160) / 213 - 0.5
      expect(Math.abs((y[60 * view.widthPx + column] ?? NaN) - (40 + storedX))).toBeLessThanOrEqual(1.5)
    }
  })

  test('a picture in full range comes out in the usual 16 to 235', async () => {
    const { clip, frames } = await decoded('full-range.mp4', engine())
    expect(clip.video.isFullRange).toBe(true)
    for (const x of [10, 80, 150]) {
      expect(Math.abs(storedLuma(frames[0]!, 0, x, 60) - (40 + x))).toBeLessThanOrEqual(2)
    }
  })

  test('grey frames have luma only, the same as in colour', async () => {
    const { frames } = await decoded('plain.mp4', engine(), { greyOnly: true })
    const colour = await decoded('plain.mp4', engine())
    expect(frames[9]!.u.length + frames[9]!.v.length).toBe(0)
    expect(Buffer.compare(frames[9]!.y, colour.frames[9]!.y)).toBe(0)
    expect(colour.frames[9]!.u.length).toBe((160 * 96) / 4)
  })

  test('a slowed clip is timed in real time, and asked for in real time', async () => {
    const { frames } = await decoded('plain.mp4', engine(), { slowMotionFactor: 8, fromS: 0.1, toS: 0.2 })
    expect(frames.map((frame) => frame.index)).toEqual([...Array(25).keys()].map((k) => k + 24))
    expect(frames[0]?.ptsS).toBeCloseTo(0.1, 9)
    expect(frames.at(-1)?.ptsS).toBeCloseTo(0.2, 9)
  })

  test('a stretch between two frames, or outside the clip, has no frames', async () => {
    expect((await decoded('plain.mp4', engine(), { fromS: 0.04, toS: 0.06 })).frames).toEqual([])
    expect((await decoded('plain.mp4', engine(), { fromS: 100 })).frames).toEqual([])
  })

  test('at most 5 frames a second are 5 frames a second, each with its own time', async () => {
    const { frames } = await decoded('plain.mp4', engine(), { atMostHz: 5 })
    expect(frames.map((frame) => frame.index)).toEqual([0, 6, 12, 18, 24, 30, 36, 42, 48, 54])
    expect(frames.map((frame) => numberIn(frame))).toEqual(frames.map((frame) => frame.index))
  })

  test('key frames alone are exactly the key frames', async () => {
    const { clip, frames } = await decoded('plain.mp4', engine(), { depth: 'keys' })
    const keys = [...clip.video.isKeyFrame.keys()].filter((i) => clip.video.isKeyFrame[i] === 1)
    expect(frames.map((frame) => frame.index)).toEqual(keys)
    expect(frames.map((frame) => numberIn(frame))).toEqual(keys)
  })

  test('a scan of reference frames leaves out the others and knows which ones', async () => {
    const { clip, frames } = await decoded('plain.mp4', engine(), { depth: 'references' })
    expect(frames.length).toBeLessThan(0.75 * clip.video.fileTimesS.length)
    expect(frames.length).toBeGreaterThan(0.3 * clip.video.fileTimesS.length)
    expect(frames.map((frame) => numberIn(frame))).toEqual(frames.map((frame) => frame.index))
  })

  test('single frames are the same as those met on the way', async () => {
    const clip = await probedOnce(folder.path('long.mp4'), engine())
    const stills = await readStills(clip, engine(), [239, 5, 100, 5, 101, 0])
    expect([...stills.keys()].sort((a, b) => a - b)).toEqual([0, 5, 100, 101, 239])
    for (const [index, frame] of stills) expect(numberIn(frame)).toBe(index)
    const still = await readStill(clip, engine(), 57)
    expect(still === null ? null : numberIn(still)).toBe(57)
  })

  test('a frame that the clip does not have is a mistake of the caller', async () => {
    const clip = await probedOnce(folder.path('plain.mp4'), engine())
    await expect(readStill(clip, engine(), 60)).rejects.toThrow('The clip has no frame 60.')
  })

  test('a slow reader gets every frame, and ffmpeg waits for it', async () => {
    const clip = await probedOnce(folder.path('plain.mp4'), engine())
    const numbers: number[] = []
    for await (const frame of streamFrames(clip, engine())) {
      // As long as it takes to let everything else that is ready go first, many times over.
      for (let turn = 0; turn < 50; turn++) await new Promise((resolve) => setImmediate(resolve))
      numbers.push(numberIn(frame))
    }
    expect(numbers).toEqual([...clip.video.fileTimesS.keys()])
  })

  test('a cancelled reading throws the reason at once', async () => {
    const clip = await probedOnce(folder.path('long.mp4'), engine())
    const cancel = new AbortController()
    const seen: number[] = []
    const read = async () => {
      for await (const frame of streamFrames(clip, engine(), { signal: cancel.signal })) {
        seen.push(frame.index)
        if (seen.length === 3) cancel.abort(new Error('enough'))
      }
    }
    await expect(read()).rejects.toThrow('enough')
    expect(seen).toEqual([0, 1, 2])
    await expect(probeClip(folder.path('long.mp4'), engine(), cancel.signal)).rejects.toThrow('enough')
  })
})

async function decoded(
  name: string,
  engine: MediaFfmpeg,
  request: FrameRequest = {},
): Promise<{ clip: ProbedClip; frames: Frame[] }> {
  const clip = await probedOnce(folder.path(name), engine)
  const frames: Frame[] = []
  for await (const frame of streamFrames(clip, engine, request)) frames.push(copyFrame(frame))
  return { clip, frames }
}

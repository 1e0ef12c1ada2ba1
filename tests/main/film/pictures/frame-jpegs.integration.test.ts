import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import type { Frame } from '../../../../analysis/clip/frame.ts'
import { readStills } from '../../../../main/film/media/read-stills.ts'
import { frameJpegs, type FrameJpeg, type WantedFrames } from '../../../../main/film/pictures/frame-jpegs.ts'
import { forEachFfmpeg } from '../media/each-ffmpeg.ts'
import { clipFolder, exactTimes, ffmpeg, h264, makeClip, numberIn, uneven } from '../media/made-clips.ts'
import { probedOnce } from '../media/probed-once.ts'
import { jpegSize, lumaOf } from './decoded-jpeg.ts'

const folder = clipFolder()
afterAll(folder.remove)

const clips = [
  { name: 'even.mp4', what: 'with B frames and an even rate' },
  { name: 'uneven.mp4', what: 'with uneven frame times' },
  { name: 'turned.mp4', what: 'turned by its flag' },
  { name: 'one-key.mp4', what: 'with a single key frame' },
] as const

beforeAll(async () => {
  await makeClip(folder.path('even.mp4'))
  await makeClip(folder.path('uneven.mp4'), { filters: [uneven], encode: [...h264, ...exactTimes] })
  const turned = ['-c', 'copy', '-metadata:s:v:0', 'rotate=90']
  await ffmpeg(['-i', folder.path('even.mp4'), ...turned, folder.path('turned.mp4')])
  await makeClip(folder.path('one-key.mp4'), { encode: [...h264, '-g', '600'] })
})

const fine = { longestPx: 1280, coarseness: 2 }

forEachFfmpeg((engine) => {
  async function jpegs(name: string, wanted: WantedFrames, look = fine): Promise<FrameJpeg[]> {
    const clip = await probedOnce(folder.path(name), engine())
    const out: FrameJpeg[] = []
    for await (const frame of frameJpegs(clip, engine(), wanted, look, new AbortController().signal)) out.push(frame)
    return out
  }

  describe.each(clips)('a clip $what', ({ name }) => {
    test('has as many pictures as frames are measured, and each is the frame of its number', async () => {
      const clip = await probedOnce(folder.path(name), engine())
      const all = await jpegs(name, { kind: 'range', firstIndex: 0, lastIndex: 59 })
      expect(all.map(({ index }) => index)).toEqual([...clip.video.fileTimesS.keys()])
      const looked = all.filter(({ index }) => index % 19 === 3)
      const stills = await readStills(
        clip,
        engine(),
        looked.map(({ index }) => index),
      )
      for (const { index, jpeg } of looked) {
        const still = stills.get(index)!
        const picture = { ...still, y: await lumaOf(engine().ffmpegPath, jpeg) }
        expect(numberIn(picture, clip.video.rotationDeg)).toBe(index)
        expect(meanDifference(picture, still)).toBeLessThan(2)
      }
    })

    test('gives a stretch from its middle, and single frames', async () => {
      const stretch = await jpegs(name, { kind: 'range', firstIndex: 31, lastIndex: 40 })
      expect(stretch.map(({ index }) => index)).toEqual([31, 32, 33, 34, 35, 36, 37, 38, 39, 40])
      const picked = await jpegs(name, { kind: 'picked', indices: [14, 15, 58] })
      expect(picked.map(({ index }) => index)).toEqual([14, 15, 58])
    })
  })

  test('the turned clip is really turned', async () => {
    expect((await probedOnce(folder.path('turned.mp4'), engine())).video.rotationDeg % 180).toBe(90)
  })

  test('a picture is no larger than asked for, and keeps its shape', async () => {
    const [upright] = await jpegs('turned.mp4', { kind: 'picked', indices: [5] }, { longestPx: 80, coarseness: 5 })
    expect(jpegSize(upright!.jpeg)).toEqual({ widthPx: 48, heightPx: 80 })
  })

  test('reading stops at once when it is no longer wanted', async () => {
    const clip = await probedOnce(folder.path('even.mp4'), engine())
    const stop = new AbortController()
    const seen: number[] = []
    const reading = (async () => {
      const wanted = { kind: 'range', firstIndex: 0, lastIndex: 59 } as const
      for await (const { index } of frameJpegs(clip, engine(), wanted, fine, stop.signal)) {
        seen.push(index)
        stop.abort(new Error('enough'))
      }
    })()
    await expect(reading).rejects.toThrow('enough')
    expect(seen).toEqual([0])
  })
})

/** JPEG luma runs from 0 to 255, that of a frame from 16 to 235. */
function meanDifference(picture: Pick<Frame, 'y'>, still: Frame): number {
  let sum = 0
  for (let i = 0; i < still.y.length; i++) sum += Math.abs(16 + (picture.y[i]! * 219) / 255 - still.y[i]!)
  return sum / still.y.length
}

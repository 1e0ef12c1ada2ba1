import { existsSync, readdirSync, readFileSync, rmSync } from 'node:fs'
import { mkdir, stat, utimes, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, onTestFinished, test } from 'vitest'
import { problem, success, type Outcome } from '../../../../main/contract/outcome.ts'
import { chooseFfmpeg } from '../../../../main/film/engines/ffmpeg-choice.ts'
import { probeClip } from '../../../../main/film/media/probe-clip.ts'
import type { ProbedClip } from '../../../../main/film/media/probed-clip.ts'
import { ClipPictures, type PicturesLimits } from '../../../../main/film/pictures/clip-pictures.ts'
import { makeRoom } from '../../../../main/film/pictures/pictures-room.ts'
import { testFolder } from '../../library/things.ts'
import { clipFolder, ffmpeg, makeClip } from '../media/made-clips.ts'
import { jpegSize } from './decoded-jpeg.ts'

const folder = clipFolder()
afterAll(folder.remove)
let clip: ProbedClip

beforeAll(async () => {
  await makeClip(folder.path('good.mp4'), { frames: 90 })
  clip = await probeClip(folder.path('good.mp4'), await chooseFfmpeg())
})

const never = new AbortController().signal

/** Pictures of one clip, `good`, in a folder of their own. */
function open(
  picturesFolder: string,
  limits?: PicturesLimits,
  stretch: { fromFrame: number; toFrame: number } | null = null,
  of: ProbedClip = clip,
) {
  const told: [number, number][] = []
  const source = {
    open: (clipId: string): Promise<Outcome<ProbedClip>> =>
      Promise.resolve(clipId === 'good' ? success(of) : problem('file-missing', 'This clip is not there.')),
    stretchOf: () => stretch,
  }
  const tell = (_: string, done: number, total: number) => told.push([done, total])
  const pictures = new ClipPictures(() => picturesFolder, source, tell, ...(limits === undefined ? [] : [limits]))
  onTestFinished(() => pictures.close())
  const prepare = async () => {
    pictures.prepare('good')
    await expect.poll(() => told.at(-1)?.[0], { timeout: 20_000 }).toBe(90)
  }
  return { pictures, told, prepare }
}

async function jpegOf(pictures: ClipPictures, size: 'frame' | 'full' | 'small', index: number): Promise<Uint8Array> {
  const outcome = await pictures.jpeg('good', size, index, never)
  if (!outcome.ok) throw new Error(outcome.error.message)
  return outcome.value
}

test('a prepared clip gives every frame, and is still prepared when the program starts again', async () => {
  const place = await testFolder()
  const { pictures, prepare } = open(place)
  expect(await pictures.state('good', clip.sha256)).toEqual({ kind: 'none' })
  const before = await jpegOf(pictures, 'frame', 33)
  await prepare()
  expect(await pictures.state('good', clip.sha256)).toEqual({ kind: 'ready' })
  expect(await jpegOf(pictures, 'frame', 33)).toEqual(before)
  await pictures.close()
  const again = open(place).pictures
  expect(await again.state('good', clip.sha256)).toEqual({ kind: 'ready' })
  expect(await jpegOf(again, 'frame', 33)).toEqual(before)
  expect(await again.state('good', 'another hash')).toEqual({ kind: 'none' })
})

test("each size is what it is said to be, and in the clip's proportions", async () => {
  const picture = ['-f', 'lavfi', '-i', 'color=gray:s=1920x1080:r=30', '-frames:v', '3', '-pix_fmt', 'yuv420p']
  await ffmpeg([...picture, folder.path('large.mp4')])
  const large = await probeClip(folder.path('large.mp4'), await chooseFfmpeg())
  const { pictures } = open(await testFolder(), undefined, null, large)
  const sizes = ['frame', 'full', 'small'] as const
  const seen = await Promise.all(sizes.map(async (size) => jpegSize(await jpegOf(pictures, size, 1))))
  expect(seen).toEqual([
    { widthPx: 1280, heightPx: 720 },
    { widthPx: 1920, heightPx: 1080 },
    { widthPx: 160, heightPx: 90 },
  ])
})

test('a frame that is not there, and a clip that cannot be opened, are said in a sentence', async () => {
  const { pictures } = open(await testFolder())
  expect(await pictures.jpeg('good', 'frame', 90, never)).toMatchObject({ ok: false, error: { code: 'not-found' } })
  expect(await pictures.jpeg('lost', 'small', 0, never)).toMatchObject({ ok: false, error: { code: 'file-missing' } })
})

test('closing while pictures are prepared leaves nothing half-done', async () => {
  const place = await testFolder()
  const { pictures, told } = open(place)
  const written = () => readdirSync(place, { recursive: true }).filter((name) => String(name).includes('frames'))
  pictures.prepare('good')
  await expect.poll(written, { interval: 1 }).not.toEqual([])
  await pictures.close()
  // Closed before the end, or the test shows nothing.
  expect(told.every(([done]) => done < 90)).toBe(true)
  expect(written()).toEqual([])
})

test('what a killed program left half-done is swept away at the next start', async () => {
  const place = await testFolder()
  await mkdir(join(place, 'good'))
  await writeFile(join(place, 'good', 'frames.part'), 'half')
  const { prepare } = open(place)
  await expect.poll(() => existsSync(join(place, 'good', 'frames.part'))).toBe(false)
  await prepare()
})

test('pictures that were thrown away are made anew', async () => {
  const place = await testFolder()
  const { pictures, prepare, told } = open(place)
  await prepare()
  rmSync(join(place, 'good'), { recursive: true })
  expect(await pictures.state('good', clip.sha256)).toEqual({ kind: 'none' })
  expect((await jpegOf(pictures, 'frame', 12)).length).toBeGreaterThan(100)
  told.length = 0
  await prepare()
  expect(await pictures.state('good', clip.sha256)).toEqual({ kind: 'ready' })
})

test('when not all frames have room, those of the chosen stretch are there', async () => {
  const place = await testFolder()
  const oneFrame = (await jpegOf(open(await testFolder()).pictures, 'frame', 60)).length
  const limits = { mostBytes: 1e9, mostBytesAClip: 14 * oneFrame }
  const { pictures, prepare } = open(place, limits, { fromFrame: 60, toFrame: 69 })
  await prepare()
  const { lengths } = JSON.parse(readFileSync(join(place, 'good', 'frames.json'), 'utf8')) as { lengths: number[] }
  expect(lengths.slice(60, 70).every((length) => length > 0)).toBe(true)
  expect(lengths.slice(0, 50).every((length) => length === 0)).toBe(true)
  const { size } = await stat(join(place, 'good', 'frames.jpegs'))
  expect(size).toBeLessThanOrEqual(limits.mostBytesAClip)
  for (const index of [60, 69, 3, 89]) expect((await jpegOf(pictures, 'frame', index)).length).toBeGreaterThan(100)
})

test('room is made by throwing away what was not used for longest, but not what is needed now', async () => {
  const place = await testFolder()
  for (const [k, name] of ['old', 'middle', 'new'].entries()) {
    await mkdir(join(place, name))
    await writeFile(join(place, name, 'frames.jpegs'), Buffer.alloc(1000))
    await utimes(join(place, name, 'frames.jpegs'), 1000 + k, 1000 + k)
  }
  await makeRoom(place, 2000, 'old')
  expect(readdirSync(place).sort()).toEqual(['new', 'old'])
})

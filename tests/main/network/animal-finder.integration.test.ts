import { execFile } from 'node:child_process'
import { existsSync, readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { dirname, join } from 'node:path'
import { promisify } from 'node:util'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { chooseFfmpeg } from '../../../main/engines/ffmpeg-choice.ts'
import type { AnimalFinder, RgbPicture } from '../../../main/network/animal-finder.ts'
import { overlap } from '../../../main/network/findings.ts'
import { openAnimalFinder } from '../../../main/network/open-finder.ts'
import { needs } from '../../report/needs.ts'
import { FILMED_CLIPS } from '../../report/filmed-clips.ts'

let finder: AnimalFinder

beforeAll(async () => {
  finder = await openFinder()
})

afterAll(async () => {
  await finder.close()
})

test('a person is found where she sits in a photograph', async () => {
  const found = await finder.find(await photograph())
  // Read off the picture by eye: the second photograph of the upper row.
  const sitting = { x0Px: 170, y0Px: 0, x1Px: 318, y1Px: 158 }
  const best = Math.max(...found.filter(({ what }) => what === 'person').map(({ box }) => overlap(box, sitting)))
  expect(best).toBeGreaterThan(0.7)
  expect(found.filter(({ dogScore }) => dogScore > 0.3)).toEqual([])
})

test('nothing is found in an empty picture', async () => {
  expect(await finder.find({ rgb: new Uint8Array(320 * 200 * 3).fill(128), widthPx: 320, heightPx: 200 })).toEqual([])
})

test('a filmed dog is found where it is', async (context) => {
  needs(context, 'the filmed clips')
  const truth = JSON.parse(readFileSync(join(FILMED_CLIPS, 'film-01.truth.json'), 'utf8')) as {
    frames: { dogBoxPx: [number, number, number, number][] }
  }
  for (const frame of [100, 140, 180]) {
    const picture = await pictureOf(join(FILMED_CLIPS, 'film-01.mp4'), 1280, 720, `select=eq(n\\,${frame})`)
    const [best] = await finder.find(picture)
    const [x0Px, y0Px, x1Px, y1Px] = truth.frames.dogBoxPx[frame]!
    expect(best).toMatchObject({ what: 'dog' })
    expect(overlap(best!.box, { x0Px, y0Px, x1Px, y1Px })).toBeGreaterThan(0.7)
  }
})

test('the main thread goes on while the network looks', async () => {
  const picture = await photograph()
  let ticks = 0
  const timer = setInterval(() => ticks++, 5)
  await finder.find(picture)
  clearInterval(timer)
  expect(ticks).toBeGreaterThan(5)
})

test('a picture whose bytes do not fit its size is refused with both numbers', async () => {
  const find = finder.find({ rgb: new Uint8Array(10), widthPx: 4, heightPx: 2 })
  await expect(find).rejects.toThrow('a picture of 4 x 2 px has 24 bytes of rgb, not 10')
})

test('closing rejects the pictures that still wait, and later ones', async () => {
  const short = await openFinder()
  const picture = { rgb: new Uint8Array(64 * 64 * 3), widthPx: 64, heightPx: 64 }
  const [failure] = await Promise.all([short.find(picture).catch((error: unknown) => error), short.close()])
  expect(failure).toMatchObject({ message: 'The finder was closed.' })
  await expect(short.find(picture)).rejects.toThrow('The finder was closed.')
})

async function openFinder(): Promise<AnimalFinder> {
  const outcome = await openAnimalFinder()
  if (outcome.kind === 'unavailable') throw new Error(outcome.why)
  return outcome.finder
}

/** A contact sheet of photographs of people that comes with the network's package. */
async function photograph(): Promise<RgbPicture> {
  const main = createRequire(import.meta.url).resolve('@vladmandic/human')
  return pictureOf(join(dirname(main), '../assets/samples.jpg'), 1280, 1158, 'null')
}

async function pictureOf(path: string, widthPx: number, heightPx: number, filter: string): Promise<RgbPicture> {
  expect(existsSync(path)).toBe(true)
  const { ffmpegPath } = await chooseFfmpeg()
  const output = ['-frames:v', '1', '-pix_fmt', 'rgb24', '-f', 'rawvideo', 'pipe:1']
  const { stdout } = await promisify(execFile)(ffmpegPath, ['-v', 'error', '-i', path, '-vf', filter, ...output], {
    encoding: 'buffer',
    maxBuffer: widthPx * heightPx * 3 + 1,
  })
  return { rgb: stdout, widthPx, heightPx }
}

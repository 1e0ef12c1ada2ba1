import {
  copyFileSync,
  createReadStream,
  existsSync,
  mkdirSync,
  readFileSync,
  renameSync,
  rmSync,
  truncateSync,
  writeFileSync,
} from 'node:fs'
import { dirname, join } from 'node:path'
import { afterAll, beforeAll, describe, expect, onTestFinished, test } from 'vitest'
import type { Happening } from '../../../main/contract/calls.ts'
import type { ClipDetail } from '../../../main/contract/clips.ts'
import type { Outcome } from '../../../main/contract/outcome.ts'
import { openServices, type Services } from '../../../main/services/services.ts'
import { forkWorkerProcess } from '../../../main/services/worker-process.ts'
import { testFolder } from '../library/things.ts'
import { clipFolder, ffmpeg, h264, makeClip, tone } from '../film/media/made-clips.ts'

const SAMPLES = join(import.meta.dirname, '../../../sample-clips/clips')
const made = clipFolder()
afterAll(made.remove)

beforeAll(async () => {
  await makeClip(made.path('good.mp4'))
  await makeClip(made.path('other.mp4'), { frames: 40 })
  await ffmpeg([...tone, '-c:a', 'aac', made.path('song.mp4')])
  await makeClip(made.path('picture.jpg'), { frames: 1, encode: [] })
  writeFileSync(made.path('empty.mp4'), '')
  copyFileSync(made.path('good.mp4'), made.path('cut.mp4'))
  truncateSync(made.path('cut.mp4'), Math.floor(0.6 * readFileSync(made.path('good.mp4')).length))
  await makeClip(made.path('slow.mp4'), {
    encode: [...h264, '-movflags', 'use_metadata_tags', '-metadata', 'com.android.capture.fps=240'],
  })
})

async function open(libraryFolder?: string) {
  const folder = libraryFolder ?? (await testFolder())
  const opened = await openServices({
    libraryFolder: join(folder, 'library'),
    samplesFolder: SAMPLES,
    startWorkerProcess: forkWorkerProcess,
  })
  if (!opened.ok) throw new Error(opened.error.message)
  const services = opened.value
  let isOpen = true
  const close = async () => {
    if (isOpen) await services.close()
    isOpen = false
  }
  onTestFinished(close)
  const told: Happening[] = []
  services.onHappening((happening) => told.push(happening))
  /** A copy of a made clip in this test's own folder. */
  const place = (name: string, at = name) => {
    const path = join(folder, at)
    mkdirSync(dirname(path), { recursive: true })
    copyFileSync(made.path(name), path)
    return path
  }
  return { services, folder, told, place, close }
}

function valueOf<T>(outcome: Outcome<T>): T {
  if (!outcome.ok) throw new Error(outcome.error.message)
  return outcome.value
}

async function takeIn(services: Services, path: string): Promise<Outcome<ClipDetail>> {
  const { fileId } = valueOf(await services.files.register(path))
  return services.handlers['clips.takeIn']({ fileId })
}

describe('taking a clip in', () => {
  test('tells what the file says, and waits to be set up', async () => {
    const { services, place } = await open()
    const clip = valueOf(await takeIn(services, place('good.mp4')))
    expect(clip.facts).toMatchObject({
      fileName: 'good.mp4',
      widthPx: 160,
      heightPx: 96,
      frameCount: 60,
      hasSound: false,
    })
    expect(clip.frameTimesS).toHaveLength(60)
    expect(clip.frameTimesS[30]).toBeCloseTo(1, 6)
    expect(clip.card).toMatchObject({ stage: 'to-set-up', isMissing: false, sample: null, rideIds: [] })
    expect(clip.slowMotion.factor).toBe(1)
  })

  test('finds slow motion in the tags', async () => {
    const { services, place } = await open()
    expect(valueOf(await takeIn(services, place('slow.mp4'))).slowMotion).toMatchObject({ factor: 8, isSure: true })
  })

  test.each([
    ['empty.mp4', /empty\.mp4 is empty/],
    ['cut.mp4', /cut\.mp4 has no index, so its recording or copying was cut off/],
    ['song.mp4', /song\.mp4 holds sound but no video/],
    ['picture.jpg', /picture\.jpg is a still picture/],
  ])('refuses %s in a sentence and keeps nothing', async (name, says) => {
    const { services, place } = await open()
    const outcome = await takeIn(services, place(name))
    expect(outcome).toMatchObject({ ok: false, error: { code: 'unreadable' } })
    expect(outcome.ok ? '' : outcome.error.message).toMatch(says)
    expect(valueOf(await services.handlers['clips.list']({}))).toEqual([])
  })

  test('opens a clip of the same content again, lying in its first place', async () => {
    const { services, place } = await open()
    const both = await Promise.all([
      takeIn(services, place('good.mp4')),
      takeIn(services, place('good.mp4', 'copy.mp4')),
    ])
    expect(valueOf(both[1]).card.id).toBe(valueOf(both[0]).card.id)
    expect(valueOf(await services.handlers['clips.list']({}))).toHaveLength(1)
  })

  test('an uploaded file is kept by the library; a second upload of it is not', async () => {
    const { services, folder } = await open()
    const upload = async () => {
      const { fileId } = valueOf(await services.files.receive('run.mp4', createReadStream(made.path('good.mp4'))))
      return { fileId, path: services.files.pathOf(fileId)! }
    }
    const [first, second] = [await upload(), await upload()]
    const clip = valueOf(await services.handlers['clips.takeIn']({ fileId: first.fileId }))
    await services.handlers['clips.takeIn']({ fileId: second.fileId })
    expect([existsSync(first.path), existsSync(second.path)]).toEqual([true, false])
    expect(first.path.startsWith(join(folder, 'library'))).toBe(true)
    const removed = valueOf(await services.handlers['clips.remove']({ clipId: clip.card.id }))
    const back = valueOf(await services.handlers['bin.putBack']({ removedId: removed.removedId }))
    expect([back.id, existsSync(first.path)]).toEqual([clip.card.id, true])
    await services.handlers['clips.remove']({ clipId: clip.card.id })
    await services.handlers['bin.empty']({})
    expect(existsSync(first.path)).toBe(false)
  })
})

describe('a clip whose file has moved', () => {
  test('is found again beside its old place, under another name too', async () => {
    const { services, place, folder } = await open()
    const path = place('good.mp4', 'films/good.mp4')
    const { card } = valueOf(await takeIn(services, path))
    renameSync(path, join(folder, 'films/wren second run.mp4'))
    expect(valueOf(await services.handlers['clips.get']({ clipId: card.id })).card.isMissing).toBe(false)
  })

  test('is missing where it cannot be found, and says so', async () => {
    const { services, place } = await open()
    const path = place('good.mp4', 'films/good.mp4')
    const { card } = valueOf(await takeIn(services, path))
    rmSync(path)
    expect(valueOf(await services.handlers['clips.list']({}))).toMatchObject([{ isMissing: true }])
    expect(valueOf(await services.handlers['clips.get']({ clipId: card.id })).card.isMissing).toBe(true)
    expect(await services.handlers['clips.preparePictures']({ clipId: card.id })).toMatchObject({
      error: { code: 'file-missing', message: expect.stringMatching(/^good\.mp4 is no longer in /) as string },
    })
  })

  test('is taken from where the handler says, but only the very same film', async () => {
    const { services, place, folder } = await open()
    const path = place('good.mp4', 'card/good.mp4')
    const { card } = valueOf(await takeIn(services, path))
    rmSync(dirname(path), { recursive: true })
    const say = async (name: string) => {
      const { fileId } = valueOf(await services.files.register(place(name, `far/away/${name}`)))
      return services.handlers['clips.findAgain']({ clipId: card.id, fileId })
    }
    expect(await say('other.mp4')).toMatchObject({ ok: false, error: { code: 'refused' } })
    expect(valueOf(await say('good.mp4')).card).toMatchObject({ id: card.id, isMissing: false })
    expect(existsSync(join(folder, 'far/away/other.mp4'))).toBe(true)
  })

  test('is not mistaken for another film that now has its name', async () => {
    const { services, place } = await open()
    const path = place('good.mp4', 'films/good.mp4')
    const { card } = valueOf(await takeIn(services, path))
    copyFileSync(made.path('other.mp4'), path)
    expect(valueOf(await services.handlers['clips.get']({ clipId: card.id })).card.isMissing).toBe(true)
  })
})

describe('what is said of a clip', () => {
  test('is kept over a restart', async () => {
    const first = await open()
    const { card, setup } = valueOf(await takeIn(first.services, first.place('good.mp4')))
    const said = { ...setup, title: 'Second run', travel: 'to-left' as const, stretch: { fromFrame: 3, toFrame: 50 } }
    valueOf(await first.services.handlers['clips.setUp']({ clipId: card.id, setup: said }))
    await first.close()
    const again = await open(first.folder)
    expect(valueOf(await again.services.handlers['clips.get']({ clipId: card.id }))).toMatchObject({ setup: said })
  })

  test('must fit the clip and the library', async () => {
    const { services, place } = await open()
    const { card, setup } = valueOf(await takeIn(services, place('good.mp4')))
    const setUp = services.handlers['clips.setUp']
    const refused = { ok: false, error: { code: 'bad-input' } }
    for (const stretch of [
      { fromFrame: 10, toFrame: 60 },
      { fromFrame: 10, toFrame: 10 },
    ])
      expect(await setUp({ clipId: card.id, setup: { ...setup, stretch } })).toMatchObject(refused)
    expect(await setUp({ clipId: card.id, setup: { ...setup, dogId: 'nobody' } })).toMatchObject(refused)
    expect(await setUp({ clipId: card.id, setup: { ...setup, boardId: 'none' } })).toMatchObject(refused)
    const rest = { frame: 60, entryEnd: null, exitEnd: null, pivot: null, upContactEdge: null, downContactEdge: null }
    const marks = { rest, grounded: null, neverLands: false }
    expect(await services.handlers['clips.mark']({ clipId: card.id, marks })).toMatchObject(refused)
  })

  test('goes with the clip, its pictures too; the handler’s own file stays', async () => {
    const { services, place, told, folder } = await open()
    const path = place('good.mp4')
    const { card } = valueOf(await takeIn(services, path))
    await services.handlers['clips.preparePictures']({ clipId: card.id })
    await expect
      .poll(() => told.some((one) => one.kind === 'pictures' && one.framesDone === 60), { timeout: 20_000 })
      .toBe(true)
    expect(valueOf(await services.handlers['clips.get']({ clipId: card.id })).pictures).toEqual({ kind: 'ready' })
    valueOf(await services.handlers['clips.remove']({ clipId: card.id }))
    expect(valueOf(await services.handlers['clips.list']({}))).toEqual([])
    expect(existsSync(path)).toBe(true)
    expect(existsSync(join(folder, 'library', 'pictures', card.id))).toBe(false)
  })
})

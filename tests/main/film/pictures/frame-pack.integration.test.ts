import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { FramePack, FramePackWriter } from '../../../../main/film/pictures/frame-pack.ts'

const SHA256 = 'a'.repeat(64)
const JPEG = Buffer.from([0xff, 0xd8, 1, 2, 3, 0xff, 0xd9])

let folder: string

beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'frame-pack-'))
})

afterEach(() => rm(folder, { recursive: true }))

test('a picture is read from the pack while it is written, and from the finished one after that', async () => {
  const writer = await FramePackWriter.begin(folder, SHA256, 2)
  await writer.add({ index: 1, jpeg: JPEG })
  expect([await writer.read(0), await writer.read(1)]).toEqual([null, JPEG])
  await writer.finish()
  const pack = await FramePack.open(folder, SHA256)
  expect([await pack!.read(0), await pack!.read(1)]).toEqual([null, JPEG])
})

test('a pack that was finished or given up meanwhile says that it has no picture, and breaks nothing', async () => {
  const finished = await FramePackWriter.begin(folder, SHA256, 1)
  await finished.add({ index: 0, jpeg: JPEG })
  await finished.finish()
  expect(await finished.read(0)).toBeNull()
  const discarded = await FramePackWriter.begin(folder, SHA256, 1)
  await discarded.add({ index: 0, jpeg: JPEG })
  await discarded.discard()
  expect(await discarded.read(0)).toBeNull()
})

import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { findSampleClips } from '../../../main/files/sample-clips.ts'

let folder: string
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'samples-'))
  await mkdir(join(folder, 'drops'))
  const files = {
    'wren-hold.mp4': '',
    'wren-hold.marks.json': '{}',
    'wren-hold.board.json': '{}',
    'without-marks.mp4': '',
    'notes.txt': '',
    'drops/heavy.mov': '',
    'drops/heavy.marks.json': '{}',
    'drops/heavy.board.json': '{}',
    'drops/heavy.truth.json': '{"block": {"massKg": 1, "positionM": 3.2}}',
  }
  for (const [name, text] of Object.entries(files)) await writeFile(join(folder, name), text)
})
afterAll(() => rm(folder, { recursive: true }))

test('sample clips are those with marks and a board beside them, with the weight of a drop test', async () => {
  const clips = await findSampleClips(folder)
  expect(clips.map(({ name, weight }) => [name, weight])).toEqual([
    ['heavy', { massKg: 1, massAtM: 3.2 }],
    ['wren-hold', null],
  ])
  expect(clips[0]!.clipPath).toBe(join(folder, 'drops', 'heavy.mov'))
})

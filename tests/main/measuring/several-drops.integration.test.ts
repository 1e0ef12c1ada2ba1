import { execFile } from 'node:child_process'
import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { promisify } from 'node:util'
import { expect, onTestFinished, test } from 'vitest'
import { chooseFfmpeg } from '../../../main/film/engines/ffmpeg-choice.ts'
import { readBoardFile } from '../../../main/files/board-file.ts'
import { readMarksFile } from '../../../main/files/marks-file.ts'
import { measureDrops } from '../../../main/measuring/measure-drops.ts'

const CLIP = join(import.meta.dirname, '../../../sample-clips/clips/drop-1kg')

test('a clip in which the weight is dropped twice gives two drops, each timed as in a clip of its own', async () => {
  const ffmpeg = await chooseFfmpeg()
  const folder = await mkdtemp(join(tmpdir(), 'two-drops-'))
  onTestFinished(() => rm(folder, { recursive: true }))
  const list = join(folder, 'list.txt')
  await writeFile(list, [1, 2].map(() => `file '${CLIP}.mp4'\n`).join(''))
  const clipPath = join(folder, 'two.mp4')
  await promisify(execFile)(ffmpeg.ffmpegPath, ['-f', 'concat', '-safe', '0', '-i', list, '-c', 'copy', clipPath])
  const marks = await readMarksFile(`${CLIP}.marks.json`)
  const board = await readBoardFile(`${CLIP}.board.json`)
  if (!marks.ok || !board.ok) throw new Error('the sample has no marks or board')
  const outcome = await measureDrops({
    drops: [{ clipPath, marks: marks.value, massKg: 1, massAtM: 3.205 }],
    board: board.value,
    signal: new AbortController().signal,
    onProgress: () => undefined,
  })
  if (outcome.kind !== 'measured') throw new Error(outcome.detail)
  const { events } = JSON.parse(await readFile(`${CLIP}.truth.json`, 'utf8')) as {
    events: { dropFromReleaseS: number }
  }
  expect(outcome.drops).toHaveLength(2)
  // Half a frame of 25 a second.
  for (const { drop } of outcome.drops) {
    const { fallFromReleasedS: fall } = drop.measures
    expect(fall.kind === 'measured' ? Math.abs(fall.value - events.dropFromReleaseS) : fall).toBeLessThan(0.02)
  }
})

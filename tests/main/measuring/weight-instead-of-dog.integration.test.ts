import { join } from 'node:path'
import { expect, test } from 'vitest'
import { readBoardFile } from '../../../main/files/board-file.ts'
import { readMarksFile } from '../../../main/files/marks-file.ts'
import { measureClip } from '../../../main/measuring/measure-clip.ts'

const CLIP = join(import.meta.dirname, '../../../sample-clips/clips/drop-1kg')

test('a clip with a weight instead of a dog is known for a drop test', async () => {
  const marks = await readMarksFile(`${CLIP}.marks.json`)
  const board = await readBoardFile(`${CLIP}.board.json`)
  if (!marks.ok || !board.ok) throw new Error('the sample has no marks or board')
  const outcome = await measureClip({
    clipPath: `${CLIP}.mp4`,
    marks: marks.value,
    board: board.value,
    signal: new AbortController().signal,
    onProgress: () => undefined,
  })
  expect(outcome).toMatchObject({ kind: 'nothing', looksLikeDropTest: true })
})

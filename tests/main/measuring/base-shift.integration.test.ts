import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { expect, onTestFinished, test } from 'vitest'
import { readBoardFile } from '../../../main/files/board-file.ts'
import { readMarksFile } from '../../../main/files/marks-file.ts'
import { measureClip } from '../../../main/measuring/measure-clip.ts'
import { CLIPS } from '../../../sample-clips/clip-list.ts'
import { writeClip } from '../../../sample-clips/files/write-clip.ts'

test('a base that is pushed by 25 mm in the bang is told to have been, in a drawn clip', async () => {
  const folder = await mkdtemp(join(tmpdir(), 'base-shift-'))
  onTestFinished(() => rm(folder, { recursive: true }))
  const ride = CLIPS.find(({ name }) => name === 'wren-hold')!
  const byM = 0.025
  await writeClip(
    {
      ...ride,
      name: 'slides',
      durationS: 7.2,
      // A board that comes back soon after the dog has left.
      board: { ...ride.board, biasTorqueNm: 14, viscousNms: 8, baseSlide: { atS: 3.2, byM } },
      camera: { ...ride.camera, widthPx: 512, heightPx: 288, captureHz: 20, fileHz: 20 },
      sound: { ...ride.sound, present: false },
    },
    folder,
    { preset: 'veryfast' },
  )
  const marks = await readMarksFile(join(folder, 'slides.marks.json'))
  const board = await readBoardFile(join(folder, 'slides.board.json'))
  if (!marks.ok || !board.ok) throw new Error('the clip has no marks or board')
  const outcome = await measureClip({
    clipPath: join(folder, 'slides.mp4'),
    marks: marks.value,
    board: board.value,
    signal: new AbortController().signal,
    onProgress: () => undefined,
  })
  if (outcome.kind !== 'measured') throw new Error(outcome.detail)
  const { baseShiftM, baseLiftM } = outcome.rides[0]!.ride.measures
  if (baseShiftM?.kind !== 'measured') throw new Error(JSON.stringify(baseShiftM))
  expect(baseShiftM.ci95[0]).toBeLessThan(byM)
  expect(baseShiftM.ci95[1]).toBeGreaterThan(byM)
  expect(Math.abs(baseShiftM.value - byM)).toBeLessThan(0.004)
  expect(baseLiftM?.kind).toBe('withheld')
  expect(outcome.rides[0]!.ride.notes.join(' ')).toContain('peg it down')
})

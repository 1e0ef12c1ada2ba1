import { mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, test } from 'vitest'
import type { MeasureCommand } from '../../../main/cli/command.ts'
import { measureCommand } from '../../../main/cli/measure-command.ts'
import { chooseFfmpeg } from '../../../main/film/engines/ffmpeg-choice.ts'
import type { MeasuredRide } from '../../../main/measuring/measured-ride.ts'
import { probeClip } from '../../../main/film/media/probe-clip.ts'
import { makeUnevenClip, unevenTimesS } from '../outputs/overlay/uneven-clip.ts'
import { sampleBoard, sampleMeasured, samplePicture } from '../outputs/report/sample-ride.ts'

const measured: MeasuredRide = {
  ...sampleMeasured,
  picture: {
    ...samplePicture,
    ptsS: Float64Array.from(unevenTimesS),
    frameIndex: Int32Array.from(unevenTimesS, (_, k) => k),
  },
}

let folder: string
let command: MeasureCommand
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'measure-whole-'))
  const path = (name: string) => join(folder, name)
  await makeUnevenClip(path('biscuit.mkv'))
  const points = {
    entryEnd: [10, 100],
    exitEnd: [300, 40],
    pivot: [160, 70],
    upContactEdge: [80, 86],
    downContactEdge: [240, 52],
  }
  await writeFile(
    path('marks.json'),
    JSON.stringify({ schema: 'marks/1', clip: 'biscuit.mkv', frames: [{ frame: 0, points }] }),
  )
  await writeFile(path('board.json'), JSON.stringify(sampleBoard))
  command = {
    kind: 'measure',
    clipPath: path('biscuit.mkv'),
    marksPath: path('marks.json'),
    boardPath: path('board.json'),
    outDir: path('out'),
    overlay: true,
    pdf: true,
    progress: false,
  }
})
afterAll(() => rm(folder, { recursive: true }))

async function run(rideCount: number, overlay: boolean, signal = new AbortController().signal, onProgress = () => {}) {
  const ffmpeg = await chooseFfmpeg()
  const source = { clip: await probeClip(command.clipPath, ffmpeg), ffmpeg }
  return measureCommand(
    { ...command, overlay },
    {
      measureClip: () => Promise.resolve({ kind: 'measured', rides: Array(rideCount).fill(measured), source }),
      findMarks: () => Promise.reject(new Error('marks were given')),
      signal,
      onProgress,
      remark: () => undefined,
    },
  )
}

test('every ride gets its numbers, its report with real frames as page and PDF, and its overlay', async () => {
  const end = await run(2, true)
  expect(end.exitCode).toBe(0)
  expect(end.lines).toContain('The dog held still for 0.50 s ± 0.03 before the board landed.')
  const names = ['html', 'json', 'pdf'].flatMap((kind) => [`ride-2.${kind}`, `ride.${kind}`])
  expect((await readdir(command.outDir)).sort()).toEqual(['overlay-2.mp4', 'overlay.mp4', ...names].sort())
  expect((await readFile(join(command.outDir, 'ride.pdf'))).subarray(0, 5).toString()).toBe('%PDF-')
  const ride: unknown = JSON.parse(await readFile(join(command.outDir, 'ride.json'), 'utf8'))
  const { events, measures, footfalls } = measured.ride
  expect(ride).toMatchObject({ schema: 'tiphold.ride/1', events, measures, footfalls })
  const html = await readFile(join(command.outDir, 'ride.html'), 'utf8')
  expect(html.match(/data:image\/jpeg;base64,\/9j\//g)).toHaveLength(3)
})

test('a later run leaves nothing of an earlier one that it does not renew', async () => {
  await run(2, true)
  await run(1, false)
  expect((await readdir(command.outDir)).sort()).toEqual(['ride.html', 'ride.json', 'ride.pdf'])
})

test('a run cancelled while it writes leaves whole files only', async () => {
  await rm(command.outDir, { recursive: true, force: true })
  const controller = new AbortController()
  const cancelled = run(1, true, controller.signal, () => controller.abort(new Error('cancelled by the test')))
  await expect(cancelled).rejects.toThrow('cancelled by the test')
  expect((await readdir(command.outDir)).sort()).toEqual(['ride.html', 'ride.json', 'ride.pdf'])
})

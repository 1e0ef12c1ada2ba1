import { execFileSync } from 'node:child_process'
import { mkdtemp, readFile, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { CLIPS } from '../../sample-clips/clip-list.ts'
import { writeClip } from '../../sample-clips/files/write-clip.ts'
import type { CameraSpec, Scenario } from '../../sample-clips/scenario.ts'
import { needs } from '../report/needs.ts'

interface Truth {
  readonly slowMotionFactor: number
  readonly events: { readonly bangHeardS: number }
  readonly frames: { readonly ptsS: readonly number[] }
}

let folder: string
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'samples-'))
})
afterAll(() => rm(folder, { recursive: true }))

const tiny = (name: string, durationS: number, camera: Partial<CameraSpec>): Scenario => {
  const drop = CLIPS.find((clip) => clip.name === 'drop-1kg')!
  return {
    ...drop,
    name,
    durationS,
    action: { ...drop.action, weightKg: 8, placedS: 0.1, releasedS: 0.15 } as Scenario['action'],
    camera: { ...drop.camera, widthPx: 96, heightPx: 54, ...camera },
    sound: { present: true, windLevel: 0, others: [] },
  }
}

async function written(scenario: Scenario): Promise<{ path: string; truth: Truth }> {
  await writeClip(scenario, folder)
  const truth = JSON.parse(await readFile(join(folder, `${scenario.name}.truth.json`), 'utf8')) as Truth
  return { path: join(folder, `${scenario.name}.mp4`), truth }
}

/** What ffprobe reads from a clip, one value a line. */
const probe = (path: string, what: string): string[] =>
  execFileSync('ffprobe', ['-v', 'error', '-show_entries', what, '-of', 'default=nw=1:nk=1', path], {
    encoding: 'utf8',
  })
    .trim()
    .split('\n')

function storedTimesS(path: string): number[] {
  const args = ['-v', 'error', '-select_streams', 'v', '-show_entries', 'frame=pts_time', '-of', 'csv=p=0', path]
  const lines = execFileSync('ffprobe', args, { encoding: 'utf8' }).split('\n')
  return lines.filter((line) => /^\d/.test(line)).map(parseFloat)
}

/** When a sound track, read at a low rate, first is loud, s. */
function loudFromS(path: string): number {
  const rateHz = 8000
  const args = ['-v', 'error', '-i', path, '-f', 's16le', '-ac', '1', '-ar', String(rateHz), '-']
  const sound = execFileSync('ffmpeg', args, { maxBuffer: 2 ** 24 })
  let i = 0
  while (2 * i < sound.length - 1 && Math.abs(sound.readInt16LE(2 * i)) < 1500) i++
  return i / rateHz
}

test('a clip of variable rate stores the times that its truth tells', async (context) => {
  needs(context, 'ffmpeg on the PATH')
  const { path, truth } = await written(tiny('uneven', 1.2, { captureHz: 30, fileHz: 30, variableRate: true }))
  const stored = storedTimesS(path)
  expect(stored).toHaveLength(36)
  const apart = truth.frames.ptsS.map((timeS, i) => Math.abs(timeS - stored[i]!))
  expect(Math.max(...apart)).toBeLessThan(2e-6)
  const gaps = stored.slice(1).map((timeS, i) => timeS - stored[i]!)
  expect(Math.max(...gaps) - Math.min(...gaps)).toBeGreaterThan(0.02)
})

test('slow motion notes its capture rate, and its sound is slowed with the pictures', async (context) => {
  needs(context, 'ffmpeg on the PATH')
  const { path, truth } = await written(tiny('slow', 1, { captureHz: 240, fileHz: 30 }))
  expect(truth.slowMotionFactor).toBe(8)
  expect(probe(path, 'format_tags=com.android.capture.fps')).toEqual(['240'])
  const stored = storedTimesS(path)
  expect(Math.max(...truth.frames.ptsS.map((timeS, i) => Math.abs(8 * timeS - stored[i]!)))).toBeLessThan(1e-4)
  expect(Math.abs(loudFromS(path) / 8 - truth.events.bangHeardS)).toBeLessThan(0.004)
})

import { mkdir, rm, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { Film } from '../picture/film.ts'
import { Renderer } from '../picture/renderer.ts'
import { Random } from '../random.ts'
import type { Scenario } from '../scenario.ts'
import type { DrawnDog } from '../scene/stage.ts'
import { record } from '../simulation/recording.ts'
import { soundtrack } from '../sound/soundtrack.ts'
import { RATE_HZ } from '../sound/voices.ts'
import { frameTimesS, slowMotionFactor } from './frame-times.ts'
import { MarkedPoints } from './marked-points.ts'
import { marksFile } from './marks.ts'
import { truthFile } from './truth.ts'
import { VideoWriter } from './video-writer.ts'
import { writeWav } from './wav.ts'

/** Simulates, draws and writes one clip with its board, marks and truth beside it. */
export async function writeClip(
  scenario: Scenario,
  folder: string,
  { drawnDog, preset }: { readonly drawnDog?: DrawnDog; readonly preset?: string } = {},
): Promise<void> {
  const { name, board } = scenario
  const clip = `${name}.mp4`
  await mkdir(folder, { recursive: true })
  const recording = record(scenario)
  const renderer = new Renderer(scenario, recording, drawnDog)
  const points = new MarkedPoints(scenario, recording, renderer.camera, (t) => renderer.pose(t))
  const write = (kind: string, value: unknown): Promise<void> =>
    writeFile(join(folder, `${name}.${kind}.json`), JSON.stringify(value) + '\n')
  const { lengthM, widthM, pivotHeightM, contactM } = board
  await write('board', { lengthM, widthM, pivotHeightM, contactM })
  await write('marks', marksFile(scenario, recording, clip, points))
  await write('truth', truthFile(scenario, recording, clip, renderer, points))
  const soundPath = scenario.sound.present ? join(folder, `${name}.wav`) : null
  // Slow motion stretches the sound with the pictures.
  const soundRateHz = Math.round(RATE_HZ / slowMotionFactor(scenario.camera))
  if (soundPath) await writeWav(soundPath, soundtrack(scenario, recording, renderer.camera.basePosition), soundRateHz)
  const video = new VideoWriter({
    camera: scenario.camera,
    path: join(folder, clip),
    soundPath,
    ...(preset === undefined ? {} : { preset }),
  })
  for (const frame of developed(scenario, renderer)) await video.write(frame)
  await video.close()
  if (soundPath) await rm(soundPath)
}

/** The frames of a clip as rgb24 bytes, one after the other in the same memory. */
export function* developed(scenario: Scenario, renderer: Renderer): Generator<Uint8Array> {
  const { widthPx, heightPx } = scenario.camera
  const film = new Film(scenario.camera, new Random(scenario.seed).fork('film'))
  const light = new Float32Array(3 * widthPx * heightPx)
  const bytes = new Uint8Array(3 * widthPx * heightPx)
  for (const timeS of frameTimesS(scenario)) {
    renderer.frame(timeS, light)
    film.develop(light, bytes)
    yield bytes
  }
}

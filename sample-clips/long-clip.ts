import { mkdir, rm, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { MarkedPoints } from './files/marked-points.ts'
import { marksFile } from './files/marks.ts'
import { truthFile } from './files/truth.ts'
import { VideoWriter } from './files/video-writer.ts'
import { writeWav } from './files/wav.ts'
import { developed } from './files/write-clip.ts'
import { FULL_BOARD, HERDER, MEADOW, TRIPOD } from './parts.ts'
import { Camera } from './picture/camera.ts'
import { Film } from './picture/film.ts'
import { Renderer } from './picture/renderer.ts'
import { Random } from './random.ts'
import type { RideAction, Scenario } from './scenario.ts'
import { record } from './simulation/recording.ts'
import { soundtrack } from './sound/soundtrack.ts'
import { RATE_HZ } from './sound/voices.ts'

const LENGTH_S = 60
const SECOND_RIDE_S = 34
const ENLARGED = { widthPx: 1920, heightPx: 1080, noise: 4 }
/** Idle frames drawn once and repeated in turn. */
const IDLE_FRAMES = 8

const FIRST: RideAction = {
  kind: 'ride',
  dog: HERDER,
  handler: null,
  startS: 2,
  startAlongM: -2.1,
  approachMps: 2.6,
  climbMps: 2.1,
  tipMps: 2.1,
  pauses: [],
  ending: { kind: 'hold', leadFromEndM: 0.3, waitS: 0.7 },
  leaveMps: 2.4,
  gallops: false,
}
const SECOND: RideAction = {
  ...FIRST,
  startS: 1,
  dog: { ...HERDER, heightM: 0.4, massKg: 10 },
  ending: { kind: 'run-through' },
}

const ride = (action: RideAction): Scenario => ({
  name: 'long',
  description: 'A minute with two rides and nothing between them.',
  seed: 71,
  durationS: 9,
  board: FULL_BOARD,
  action,
  camera: { ...TRIPOD, captureHz: 60, fileHz: 60, crf: 24 },
  // The clouds stand still, so that idle frames can be repeated.
  field: { ...MEADOW, cloudDrift: 0 },
  sound: { present: true, windLevel: 0.4, others: [] },
})

/** Writes one minute of 1920x1080 at 60 frames a second, drawn at half that size. */
export async function writeLongClip(folder: string): Promise<void> {
  await mkdir(folder, { recursive: true })
  const clip = 'long.mp4'
  const rides = [
    { fromS: 0, scenario: ride(FIRST) },
    { fromS: SECOND_RIDE_S, scenario: ride(SECOND) },
  ].map(({ fromS, scenario }) => {
    const recording = record(scenario)
    return { fromS, scenario, recording, renderer: new Renderer(scenario, recording) }
  })
  const [first, second] = [rides[0]!, rides[1]!]
  const large = { ...first.scenario.camera, ...ENLARGED }
  const points = rides.map(
    ({ scenario, recording, renderer }) =>
      new MarkedPoints(scenario, recording, new Camera(large, new Random(0)), (t) => renderer.pose(t)),
  )
  const { lengthM, widthM, pivotHeightM, contactM } = first.scenario.board
  const files = {
    board: { lengthM, widthM, pivotHeightM, contactM },
    marks: marksFile(first.scenario, first.recording, clip, points[0]!),
    truth: {
      schema: 'seesaw-truth/1',
      clip,
      rides: rides.map(({ fromS, scenario, recording, renderer }, i) => {
        const { events, zones } = truthFile(scenario, recording, clip, renderer, points[i]!)
        return { fromS, events, zones }
      }),
    },
  }
  for (const [kind, value] of Object.entries(files))
    await writeFile(join(folder, `long.${kind}.json`), JSON.stringify(value) + '\n')

  const microphone = first.renderer.camera.basePosition
  const wave = soundtrack({ ...first.scenario, durationS: LENGTH_S }, first.recording, microphone)
  const later = soundtrack(second.scenario, second.recording, microphone)
  wave.set(later, SECOND_RIDE_S * RATE_HZ)
  const soundPath = join(folder, 'long.wav')
  await writeWav(soundPath, wave, RATE_HZ)

  const { camera } = first.scenario
  const video = new VideoWriter({ camera, path: join(folder, clip), soundPath, enlarge: ENLARGED, preset: 'superfast' })
  const idle = idleFrames(first.scenario, first.renderer)
  let written = 0
  const idleUntil = async (timeS: number): Promise<void> => {
    for (; written < timeS * camera.captureHz; written++) await video.write(idle[written % IDLE_FRAMES]!)
  }
  for (const { fromS, scenario, renderer } of rides) {
    await idleUntil(fromS)
    for (const frame of developed(scenario, renderer)) {
      await video.write(frame)
      written++
    }
  }
  await idleUntil(LENGTH_S)
  await video.close()
  await rm(soundPath)
}

function idleFrames(scenario: Scenario, renderer: Renderer): Uint8Array[] {
  const { widthPx, heightPx } = scenario.camera
  const film = new Film(scenario.camera, new Random(5))
  const light = new Float32Array(3 * widthPx * heightPx)
  renderer.frame(0, light)
  return Array.from({ length: IDLE_FRAMES }, () => {
    const bytes = new Uint8Array(3 * widthPx * heightPx)
    film.develop(light, bytes)
    return bytes
  })
}

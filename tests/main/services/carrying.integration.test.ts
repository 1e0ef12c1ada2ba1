import { readFile } from 'node:fs/promises'
import { afterAll, beforeAll, expect, test } from 'vitest'
import type { Board } from '../../../analysis/board/board.ts'
import type { Marks } from '../../../analysis/board/marks.ts'
import type { MarksProposal } from '../../../main/contract/clips.ts'
import { chooseFfmpeg } from '../../../main/film/engines/ffmpeg-choice.ts'
import { readBoardFile } from '../../../main/files/board-file.ts'
import { readMarksFile } from '../../../main/files/marks-file.ts'
import { probeClip } from '../../../main/film/media/probe-clip.ts'
import { carriedProposal, restFrames } from '../../../main/services/proposing-carried.ts'
import { roughlyFound } from '../../../main/services/proposing-found.ts'
import type { OpenClip } from '../../../main/services/close-look.ts'
import { CLIPS } from '../../../sample-clips/clip-list.ts'
import { writeClip } from '../../../sample-clips/files/write-clip.ts'
import type { CameraSpec, DropAction, FieldSpec, Scenario } from '../../../sample-clips/scenario.ts'
import { isHere, needs } from '../../report/needs.ts'
import { clipFolder } from '../film/media/made-clips.ts'

// Small clips of few frames drawn for this, all of one place: a weight tips the board within a second.
const drop = CLIPS.find((clip) => clip.name === 'drop-1kg')!
const action: DropAction = { ...(drop.action as DropAction), weightKg: 9, placedS: 0.5, releasedS: 0.55 }
const camera: CameraSpec = {
  ...drop.camera,
  widthPx: 640,
  heightPx: 360,
  turned: false,
  yawDeg: 6,
  captureHz: 15,
  fileHz: 15,
}
const first: Scenario = {
  ...drop,
  name: 'first',
  durationS: 1.9,
  action,
  camera,
  sound: { present: false, windLevel: 0, others: [] },
}

/** The next take, a little later and in other light. */
const take = (name: string, look: Partial<CameraSpec>, field: Partial<FieldSpec> = {}): Scenario => ({
  ...first,
  name,
  action: { ...action, person: { ...action.person, jacket: [0.1, 0.3, 0.2] }, placedS: 0.6, releasedS: 0.64 },
  camera: { ...camera, crf: 25, noise: 0.01, ...look },
  field: { ...first.field, sunShare: 0.3, cloudDrift: 0.5, ...field },
})
const TAKES = [
  take('tripod pushed by 4 cm', { yawDeg: 6.4, distanceM: camera.distanceM - 0.02 }),
  take('board moved by 5 cm', { alongM: -0.05 }, { alongM: -0.05 }),
]
const ELSEWHERE = take('elsewhere', { yawDeg: -5, distanceM: camera.distanceM + 0.6, heightM: 1.35 })

const made = clipFolder()
afterAll(made.remove)
beforeAll(async () => {
  // What draws them writes them with the ffmpeg on the PATH.
  if (!isHere('ffmpeg on the PATH')) return
  for (const scenario of [first, ...TAKES, ELSEWHERE]) await writeClip(scenario, made.path(''))
}, 120_000)

interface Truth {
  readonly frames: { readonly px: Readonly<Record<string, readonly (readonly [number, number])[]>> }
}

async function read<T>(outcome: Promise<{ ok: true; value: T } | { ok: false }>): Promise<T> {
  const read = await outcome
  if (!read.ok) throw new Error('The drawn clip has no board or marks.')
  return read.value
}

/** What is offered for a clip when the first one has been marked by hand, with 1.5 px of noise on each axis. */
async function carriedTo(name: string): Promise<MarksProposal | null> {
  const ffmpeg = await chooseFfmpeg()
  const open = async (clip: string): Promise<OpenClip> => ({
    clip: await probeClip(made.path(`${clip}.mp4`), ffmpeg),
    ffmpeg,
  })
  const board: Board = await read(readBoardFile(made.path('first.board.json')))
  const marks: Marks = await read(readMarksFile(made.path('first.marks.json')))
  const clip = await open(name)
  const [path, fileName] = [made.path(`${name}.mp4`), `${name}.mp4`]
  const wanted = { path, fileName, stretch: null, travel: null, slowMotionFactor: 1, board }
  const known = { path: made.path('first.mp4'), fileName: 'first.mp4', marks, board }
  const [resting, found] = [await restFrames(clip, wanted), await roughlyFound(clip, wanted)]
  return carriedProposal(clip, wanted, known, await open('first'), resting, found)
}

test.for(TAKES.map(({ name }) => name))('marks are carried to within 1.2 px: %s', async (name, context) => {
  needs(context, 'ffmpeg on the PATH')
  const carried = await carriedTo(name)
  const { rest, grounded } = carried!.marks
  const truth = JSON.parse(await readFile(made.path(`${name}.truth.json`), 'utf8')) as Truth
  const offsPx = [rest!, grounded!].flatMap(({ frame, ...points }) =>
    Object.entries(points).map(([point, at]) => {
      const [x, y] = truth.frames.px[point]![frame]!
      return Math.hypot(at!.xPx - x, at!.yPx - y)
    }),
  )
  expect(offsPx).toHaveLength(7)
  expect(Math.max(...offsPx)).toBeLessThan(1.2)
  expect(carried!.misfit!.px).toBeLessThan(0.8)
  expect(carried!.advice.includes('The seesaw was moved')).toBe(/pushed|moved/.test(name))
})

test('nothing is carried to a clip from another place', async (context) => {
  needs(context, 'ffmpeg on the PATH')
  expect(await carriedTo('elsewhere')).toBeNull()
})

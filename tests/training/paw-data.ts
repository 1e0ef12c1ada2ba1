import { readdirSync } from 'node:fs'
import { mkdir, readFile, rm, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { parseArgs } from 'node:util'
import type { PlankFilm } from '../../analysis/dog/plank-film.ts'
import { CHANNELS, COLUMNS, pawPicture, STEP_S } from '../../analysis/dog/paw-picture.ts'
import { readBoardFile } from '../../main/files/board-file.ts'
import { readMarksFile } from '../../main/files/marks-file.ts'
import { angleUncertainty } from '../../main/measuring/angle-uncertainty.ts'
import { followStretch } from '../../main/measuring/follow-stretch.ts'
import { openClip, stretchesOf } from '../../main/measuring/open-clip.ts'
import { dogMesh } from '../../sample-clips/dog/dog-mesh.ts'
import { Random } from '../../sample-clips/random.ts'
import type { Scenario } from '../../sample-clips/scenario.ts'
import { pawTruth } from '../../sample-clips/simulation/events.ts'
import { plankFromWorld } from '../../sample-clips/simulation/board-place.ts'
import { writeClip } from '../../sample-clips/files/write-clip.ts'
import type { DrawnDog } from '../../sample-clips/scene/stage.ts'
import { instantAt, record, type Recording } from '../../sample-clips/simulation/recording.ts'
import { centreOf } from '../../sample-clips/simulation/trunk.ts'
import type { Truth } from '../accuracy/clips-with-truth.ts'
import { type KeptStretch, slimFilm, writeKept } from './kept-film.ts'
import { Animal } from './animal-mesh.ts'
import { readAnimal, type AnimalModel } from './animal-model.ts'
import { trainingRide, type TrainingRide } from './training-scenario.ts'
import { ShapeFilm } from './shape-film.ts'

/**
 * Makes what the paw network learns from: invented rides are simulated, and what the measuring would see of them along
 * the plank is drawn straight from their shapes (a second a ride, where filming and following it takes half a minute).
 *
 *   tsx tests/training/paw-data.ts --seed 3 --from 1 --to 40 --seconds 500 --out DIR
 *
 * With `--filmed` the ride is drawn as a clip and followed by the real measuring (a minute and a half), and `--kept DIR`
 * keeps what was followed for `npm run bench:paws`. With `--spare` no ride is made in the surroundings that are left out
 * of the training.
 *
 * DIR/NAME.bin: a line of JSON (steps, columns, channels, labels a step), then the picture, one byte a value, then the
 * labels as float32: of each paw where it appears along, whether it touches, how high it is; then where the body's
 * centre appears.
 */
const LABELS = 4 * 3 + 1

async function writeRides(asked: {
  seed: number
  from: number
  to: number
  seconds: number
  out: string
  /** Folder of .glb animals; none are drawn without it. */
  animals?: string
  /** Draws each ride as a clip and follows it with the real measuring, instead of drawing what it would see. */
  filmed: boolean
  /** Folder for what was followed; nothing is kept without it. */
  kept?: string
  /** Leaves out the surroundings that the network is judged in. */
  spare: boolean
}): Promise<void> {
  const started = performance.now()
  await mkdir(asked.out, { recursive: true })
  if (asked.kept !== undefined) await mkdir(asked.kept, { recursive: true })
  const models = asked.animals === undefined ? [] : readAnimals(asked.animals)
  for (let number = asked.from; number <= asked.to; number++) {
    if (performance.now() - started > 1000 * asked.seconds) break
    const ride = someRide(asked.seed, number, models)
    if (ride === null || (asked.spare && isLeftOut(ride.scenario))) continue
    try {
      const films = asked.filmed
        ? await filmed(ride, join(asked.out, '..', `film-${asked.seed}-${number}`), asked.kept)
        : [new ShapeFilm(ride.scenario, ride.action, ride.drawn)]
      for (const film of films) await writeExample(film, ride.body, asked.filmed, asked.out)
    } catch (error) {
      console.log(ride.scenario.name, error instanceof Error ? error.message : error)
    }
  }
}

/** The network is judged, not trained, in evening light and on a hall's matting. */
function isLeftOut({ field }: Scenario): boolean {
  return field.sky === 'evening' || field.ground === 'matting'
}

async function writeExample(filmed: Filmed, body: string, isFilmed: boolean, out: string): Promise<void> {
  const { scenario, film } = filmed
  const picture = pawPicture(film)
  const labels = labelsOf(filmed, picture.fromS, picture.steps)
  const name = `${scenario.name}-${film.ptsS[0]!.toFixed(0)}`
  const head = {
    name,
    body,
    filmed: isFilmed,
    steps: picture.steps,
    columns: COLUMNS,
    channels: CHANNELS,
    labels: LABELS,
  }
  await writeFile(
    join(out, `${name}.bin`),
    Buffer.concat([
      Buffer.from(JSON.stringify(head) + '\n'),
      Buffer.from(picture.values.buffer),
      Buffer.from(labels.buffer),
    ]),
  )
}

function readAnimals(folder: string): AnimalModel[] {
  return readdirSync(folder)
    .filter((name) => name.endsWith('.glb'))
    .sort()
    .map((name) => readAnimal(join(folder, name)))
}

/** Three rides in four are those of another animal, if there are any. */
const ANIMALS_SHARE = 0.75

interface SomeRide extends TrainingRide {
  readonly body: string
  readonly drawn: DrawnDog
}

/** A ride and whose body crosses; null for a drop test. */
function someRide(seed: number, number: number, models: readonly AnimalModel[]): SomeRide | null {
  const random = new Random(seed * 7919 + number).fork('training')
  const model = models.length > 0 && random.chance(ANIMALS_SHARE) ? random.pick(models) : null
  let animal: Animal | null = null
  const ride = trainingRide(seed, number, random, (dog) => {
    if (model === null) return dog
    animal = new Animal(model, dog, random.fork('build'))
    return animal.spec
  })
  if (ride === null) return null
  const other = animal as Animal | null
  const drawn: DrawnDog =
    other === null ? (pose, atS) => dogMesh(ride.action.dog, pose, atS) : (pose, atS) => other.mesh(pose, atS)
  return { ...ride, body: model?.name ?? 'dog', drawn }
}

/** Draws the ride as a small clip and follows it as the measuring does; one film a stretch. */
async function filmed({ scenario, drawn, body }: SomeRide, folder: string, kept?: string): Promise<Filmed[]> {
  const random = new Random(scenario.seed).fork('filmed')
  const widthPx = random.pick([640, 768, 960])
  const heightPx = (9 * widthPx) / 16
  const captureHz = random.pick([24, 25, 30, 30, 50])
  const camera = {
    ...scenario.camera,
    widthPx,
    heightPx,
    captureHz,
    fileHz: captureHz,
    turned: false,
    variableRate: false,
    crf: random.integer(22, 36),
    exposureS: Math.min(scenario.camera.exposureS, 0.9 / captureHz),
    rollingShutterS: Math.min(scenario.camera.rollingShutterS, 0.8 / captureHz),
  }
  const small: Scenario = { ...scenario, camera, sound: { ...scenario.sound, present: false } }
  await writeClip(small, folder, { drawnDog: drawn, preset: 'veryfast' })
  const path = (kind: string) => join(folder, `${small.name}.${kind}`)
  const board = await readBoardFile(path('board.json'))
  const marks = await readMarksFile(path('marks.json'))
  if (!board.ok || !marks.ok) return []
  const signal = new AbortController().signal
  const opened = await openClip({
    clipPath: path('mp4'),
    board: board.value,
    marks: marks.value,
    slowMotionFor: () => 1,
    signal,
    onProgress: () => undefined,
  })
  const recording = record(small)
  const out: Filmed[] = []
  const stretches: KeptStretch[] = []
  for (const stretch of stretchesOf(opened)) {
    const maker = await followStretch(opened, stretch, signal, () => undefined, false)
    const film = maker.plankFilm()
    out.push({ scenario: small, recording, film })
    const { commonSdRad, scaleSd } = angleUncertainty(opened.calibration)
    stretches.push({ picture: pawPicture(film), film: slimFilm(film), track: maker.boardTrack(commonSdRad, scaleSd) })
  }
  if (kept !== undefined) {
    const { ground, sky, backdrop } = scenario.field
    const truth = JSON.parse(await readFile(path('truth.json'), 'utf8')) as Truth
    const surroundings = `${ground}, ${sky}, ${backdrop}`
    writeKept(join(kept, `${small.name}.v8`), {
      ...{ name: small.name, body, surroundings, truth, board: board.value },
      stretches,
    })
  }
  await rm(folder, { recursive: true })
  return out
}

/** What was seen along the plank in one stretch, and what is true of it. */
interface Filmed {
  readonly scenario: Scenario
  readonly recording: Recording
  readonly film: PlankFilm
}

function labelsOf({ scenario, recording, film }: Filmed, fromS: number, steps: number): Float32Array {
  const { board, camera } = scenario
  const labels = new Float32Array(steps * LABELS)
  let k = 0
  for (let step = 0; step < steps; step++) {
    const atS = fromS + step * STEP_S
    while (k + 1 < film.ptsS.length && film.ptsS[k + 1]! <= atS) k++
    const shift = film.outlines[k]?.farShiftM ?? [0, 0]
    const instant = instantAt(recording, atS)
    const seenM = (alongM: number, share: number) =>
      alongM + share * (shift[0] + (alongM / board.lengthM) * (shift[1] - shift[0]))
    for (let paw = 0; paw < 4; paw++) {
      const truth = pawTruth(scenario, instant, paw)
      const at = step * LABELS + 3 * paw
      labels[at] = seenM(truth.s, 0.5 - (camera.side * truth.lateral) / board.widthM)
      labels[at + 1] = truth.touching ? 1 : 0
      labels[at + 2] = truth.height
    }
    const { alongM } = plankFromWorld(board, instant.board, centreOf(instant.dog!.trunk))
    labels[step * LABELS + 12] = seenM(alongM, 0.5)
  }
  return labels
}

const { values } = parseArgs({
  options: {
    seed: { type: 'string', default: '1' },
    from: { type: 'string', default: '1' },
    to: { type: 'string', default: '10' },
    seconds: { type: 'string', default: '1e9' },
    out: { type: 'string', default: 'out/paw-data' },
    animals: { type: 'string' },
    filmed: { type: 'boolean', default: false },
    kept: { type: 'string' },
    spare: { type: 'boolean', default: false },
  },
})
await writeRides({
  seed: Number(values.seed),
  from: Number(values.from),
  to: Number(values.to),
  seconds: Number(values.seconds),
  out: values.out,
  filmed: values.filmed,
  spare: values.spare,
  ...(values.animals === undefined ? {} : { animals: values.animals }),
  ...(values.kept === undefined ? {} : { kept: values.kept }),
})

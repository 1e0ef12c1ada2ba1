import { Random } from '../random.ts'
import type { Scenario } from '../scenario.ts'
import { mix, type Vec3 } from '../world/vector.ts'
import { BoardMotion } from './board-motion.ts'
import type { BoardPlace } from './board-place.ts'
import { DogMotion } from './dog-motion.ts'
import { dropPose, type DropPose } from './drop-motion.ts'
import { HandlerMotion, type PersonPose } from './person-motion.ts'
import type { Trunk } from './trunk.ts'
import { centreOf } from './trunk.ts'

/** How the dog is at one instant. */
export interface DogPose {
  readonly trunk: Trunk
  /** Middles of the soles: LF, RF, LH, RH. */
  readonly paws: readonly Vec3[]
  /** Share of the swing done for each paw, 0 while planted. */
  readonly swing: readonly number[]
  readonly phase: number
  readonly speedMps: number
}

export interface Instant {
  readonly board: BoardPlace
  readonly dog: DogPose | null
  readonly handler: PersonPose | null
  readonly drop: DropPose | null
}

/** The whole simulated clip, one instant every millisecond. */
export interface Recording {
  readonly stepS: number
  readonly instants: readonly Instant[]
  /** First instant the exit end touches the ground; null if it never does. */
  readonly groundedS: number | null
}

const STEP_S = 0.001
const SUBSTEPS = 2

/** Runs board and dog (or weight) together from the clip's start to a little after its end. */
export function record(scenario: Scenario): Recording {
  const random = new Random(scenario.seed)
  const board = new BoardMotion(scenario.board)
  const restAt = board.place
  const { action } = scenario
  const dog = action.kind === 'ride' ? new DogMotion(scenario.board, action, random.fork('dog'), restAt) : null
  const handlerSpec = action.kind === 'ride' ? action.handler : null
  const handler =
    handlerSpec && dog
      ? new HandlerMotion(handlerSpec, scenario.board, centreOf(dog.trunk)[0], random.fork('handler'))
      : null
  const instants: Instant[] = []
  let groundedS: number | null = null
  for (let ms = 0; ms <= Math.ceil((scenario.durationS + 0.1) / STEP_S); ms++) {
    const nowS = ms * STEP_S
    instants.push({
      board: board.place,
      dog: dog && dogPose(dog, scenario, board.place, nowS),
      handler: handler && dog ? handler.pose(board.place, nowS, dog.trunk.shoulder) : null,
      drop:
        action.kind === 'dropTest'
          ? dropPose(scenario.board, action, scenario.camera.side, board.place, restAt, nowS)
          : null,
    })
    for (let sub = 0; sub < SUBSTEPS; sub++) {
      const stepS = STEP_S / SUBSTEPS
      const subS = nowS + sub * stepS
      dog?.step({ nowS: subS, stepS, at: board.place, turnedRad: board.angleRad - restAt.angleRad, groundedS })
      if (action.kind === 'ride' && dog) board.step(stepS, dog.loads(board.place), false)
      else if (action.kind === 'dropTest') {
        const weight = { alongM: action.weightAlongM, aboveM: 0.05, massKg: action.weightKg, factor: 1 }
        board.step(stepS, subS >= action.placedS ? [weight] : [], subS < action.releasedS)
      }
      if (groundedS === null && board.metGroundAfterS !== null) groundedS = subS + board.metGroundAfterS
    }
    if (handler && dog) handler.step(STEP_S, nowS, centreOf(dog.trunk)[0], dog.speedMps)
  }
  return { stepS: STEP_S, instants, groundedS }
}

function dogPose(dog: DogMotion, scenario: Scenario, at: BoardPlace, nowS: number): DogPose {
  return {
    trunk: dog.trunk,
    paws: dog.paws.map((paw, i) => paw.world(scenario.board, at, i < 2 ? dog.trunk.shoulder : dog.trunk.hip, nowS)),
    swing: dog.paws.map((paw) => paw.progress(nowS) ?? (paw.planted ? 0 : 0.5)),
    phase: dog.phase,
    speedMps: dog.flying ? 0 : dog.speedMps,
  }
}

/** The clip at any instant, between the recorded milliseconds by straight lines. */
export function instantAt(recording: Recording, timeS: number): Instant {
  const place = Math.max(0, Math.min(recording.instants.length - 1.001, timeS / recording.stepS))
  const i = Math.floor(place)
  const t = place - i
  const a = recording.instants[i]!
  const b = recording.instants[i + 1]!
  const between = (p: number, q: number): number => p + (q - p) * t
  return {
    board: { angleRad: between(a.board.angleRad, b.board.angleRad), bendM: between(a.board.bendM, b.board.bendM) },
    dog:
      a.dog && b.dog
        ? {
            trunk: {
              shoulder: mix(a.dog.trunk.shoulder, b.dog.trunk.shoulder, t),
              hip: mix(a.dog.trunk.hip, b.dog.trunk.hip, t),
            },
            paws: a.dog.paws.map((p, k) => mix(p, b.dog!.paws[k]!, t)),
            swing: a.dog.swing,
            phase: between(a.dog.phase, b.dog.phase),
            speedMps: a.dog.speedMps,
          }
        : null,
    handler: a.handler && b.handler ? mixPerson(a.handler, b.handler, t) : null,
    drop:
      a.drop && b.drop
        ? {
            ...a.drop,
            weight: mix(a.drop.weight, b.drop.weight, t),
            person: mixPerson(a.drop.person, b.drop.person, t),
            pole:
              a.drop.pole && b.drop.pole
                ? [mix(a.drop.pole[0], b.drop.pole[0], t), mix(a.drop.pole[1], b.drop.pole[1], t)]
                : null,
          }
        : null,
  }
}

function mixPerson(a: PersonPose, b: PersonPose, t: number): PersonPose {
  const hand = (p: Vec3 | null, q: Vec3 | null): Vec3 | null => (p && q ? mix(p, q, t) : p)
  return {
    ...a,
    pelvis: mix(a.pelvis, b.pelvis, t),
    feet: [mix(a.feet[0], b.feet[0], t), mix(a.feet[1], b.feet[1], t)],
    phase: a.phase + (b.phase - a.phase) * t,
    hands: [hand(a.hands[0], b.hands[0]), hand(a.hands[1], b.hands[1])],
  }
}

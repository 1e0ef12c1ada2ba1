import { Random } from '../../sample-clips/random.ts'
import { randomScenario } from '../../sample-clips/random-scenario.ts'
import { somebody } from '../../sample-clips/scene/stage.ts'
import { boardEvents } from '../../sample-clips/simulation/events.ts'
import { record } from '../../sample-clips/simulation/recording.ts'
import type { CameraSpec, RideAction, Scenario } from '../../sample-clips/scenario.ts'

/** Pictures are kept this small and few, so that a clip is drawn within a minute. */
const WIDTH_PX = 832
const HEIGHT_PX = 468
const RATES_HZ = [25, 30, 30, 30, 50]
/** The clip goes on for so long after the landing, s; nothing is asked of what comes then. */
const AFTER_LANDING_S = 0.5
const LONGEST_S = 9
/** Every so many clips the camera looks from knee height, from a stand, and a handler runs along. */
const KNEE_EVERY = 7
const STAND_EVERY = 4
const HANDLER_EVERY = 3

/**
 * An invented ride whose dog comes from aside: up to 30 deg to either side of the plank's axis, and up to 8 cm beside its
 * middle line at the entry end; dog, board, field and camera by chance.
 *
 * @param seed of the set
 * @param number within the set, from 1
 */
export function approachScenario(seed: number, number: number): Scenario {
  const any = randomScenario(seed, 5 * number + 1)
  const random = new Random(any.seed).fork('approach')
  if (any.action.kind !== 'ride') throw new Error(`${any.name} is a drop test.`)
  const approach = { angleDeg: random.between(-30, 30), offsetM: random.between(-0.08, 0.08) }
  const handler =
    number % HANDLER_EVERY === 0
      ? {
          laneM: -any.camera.side * random.between(0.9, 1.6),
          leadM: random.between(-1.2, 0.4),
          person: somebody(random),
        }
      : null
  const action: RideAction = {
    ...any.action,
    startAlongM: -random.between(2.2, 2.8),
    pauses: [],
    ending: { kind: 'hold', leadFromEndM: 0.3, waitS: 0.2 },
    approach,
    handler,
  }
  const ride: Scenario = {
    ...any,
    name: `approach-${seed}-${String(number).padStart(2, '0')}`,
    action,
    camera: filmedFrom(any.camera, number, random),
    durationS: LONGEST_S,
    sound: { ...any.sound, present: false },
  }
  const { groundedS } = boardEvents(ride, record(ride), LONGEST_S)
  return { ...ride, durationS: Math.min(LONGEST_S, Math.ceil(10 * ((groundedS ?? LONGEST_S) + AFTER_LANDING_S)) / 10) }
}

function filmedFrom(camera: CameraSpec, number: number, random: Random): CameraSpec {
  const rateHz = random.pick(RATES_HZ)
  const distanceM = random.between(5, 8)
  // The run up is in the picture, more or less of it.
  const fill = random.between(0.42, 0.6)
  return {
    ...camera,
    widthPx: WIDTH_PX,
    heightPx: HEIGHT_PX,
    turned: false,
    captureHz: rateHz,
    fileHz: rateHz,
    distanceM,
    focalMmEquivalent: (36 * fill * distanceM) / 3.66,
    heightM:
      number % KNEE_EVERY === 0
        ? random.between(0.35, 0.55)
        : number % STAND_EVERY === 0
          ? random.between(2.2, 3)
          : random.between(1, 1.7),
    exposureS: Math.min(camera.exposureS, 0.9 / rateHz),
    rollingShutterS: Math.min(camera.rollingShutterS, 0.8 / rateHz),
  }
}

import type { Random } from '../../sample-clips/random.ts'
import { randomScenario } from '../../sample-clips/random-scenario.ts'
import type { Coat, DogSpec, Ending, RideAction, Scenario } from '../../sample-clips/scenario.ts'
import { boardEvents, rideEvents } from '../../sample-clips/simulation/events.ts'
import { somebody } from '../../sample-clips/scene/stage.ts'
import { record } from '../../sample-clips/simulation/recording.ts'

const LONGEST_S = 11

export interface TrainingRide {
  readonly scenario: Scenario
  readonly action: RideAction
}

/**
 * A ride that is harder than those of the sample generator: dogs of any build, that creep, stop late, linger with
 * their hind legs at the exit end; coats that hardly differ from the plank; views from further aside, low and high.
 *
 * @param reshape what else is made of the dog, for instance another animal's proportions
 * @returns null where the number stands for a drop test
 */
export function trainingRide(
  seed: number,
  number: number,
  random: Random,
  reshape: (dog: DogSpec) => DogSpec,
): TrainingRide | null {
  const usual = randomScenario(seed, number)
  if (usual.action.kind !== 'ride') return null
  const dog = reshape(otherDog(usual.action.dog, usual, random))
  const action = otherGoing({ ...usual.action, dog }, usual, random)
  const camera = {
    ...usual.camera,
    yawDeg: random.chance(0.4) ? random.between(-36, 36) : usual.camera.yawDeg,
    heightM: random.chance(0.3) ? random.between(0.25, 3.2) : usual.camera.heightM,
  }
  const draft: Scenario = { ...usual, camera, action, durationS: LONGEST_S }
  const recording = record(draft)
  const board = boardEvents(draft, recording, LONGEST_S)
  const { leftPlankS } = rideEvents(draft, recording, LONGEST_S)
  const afterS = random.chance(0.15) ? random.between(-0.5, 0.1) : random.between(0.3, 1.8)
  const endS = Math.min(LONGEST_S, Math.max(2.5, Math.max(board.groundedS ?? 0, leftPlankS ?? 0) + afterS))
  return { scenario: { ...draft, durationS: endS }, action }
}

function otherDog(dog: DogSpec, { board }: Scenario, random: Random): DogSpec {
  const heightM = random.chance(0.5) ? random.between(0.16, 0.8) : dog.heightM
  const near = (base: number) => Math.min(0.85, Math.max(0.01, base * Math.exp(0.35 * random.normal())))
  const plank = random.pick([board.middleColour, board.middleColour, board.zoneColour, [0.12, 0.18, 0.06] as const])
  // Every fourth dog wears about the plank's or the grass's colour.
  const hidden = random.chance(0.25)
  const grey = random.between(0.015, 0.7)
  const coat: Coat = {
    ...dog.coat,
    main: hidden
      ? [near(plank[0]), near(plank[1]), near(plank[2])]
      : random.chance(0.3)
        ? [grey, grey, grey]
        : dog.coat.main,
    second: random.chance(0.3) ? [near(grey), near(grey), near(grey)] : dog.coat.second,
    socks: random.chance(0.5) ? 0 : dog.coat.socks,
  }
  return {
    ...dog,
    heightM,
    massKg: Math.max(1, 80 * heightM ** 2.3 * dog.girth * random.between(0.8, 1.2)),
    bodyLength: random.between(0.85, 1.45),
    legLength: random.between(0.6, 1.08),
    hair: random.chance(0.3) ? random.between(0, 0.08) : dog.hair,
    coat,
  }
}

function otherGoing(action: RideAction, { board, camera }: Scenario, random: Random): RideAction {
  const { lengthM } = board
  const pauses = [...action.pauses]
  if (random.chance(0.35)) pauses.push({ atM: random.between(0.2, 2.6), forS: random.between(0.1, 0.8) })
  // Fore paws on the ground, hind paws still on the plank.
  if (action.ending.kind === 'hold' && random.chance(0.4))
    pauses.push({ atM: lengthM + random.between(-0.15, 0.12), forS: random.between(0.15, 0.9) })
  pauses.sort((a, b) => a.atM - b.atM)
  // Off to the side and on along the plank, before or behind it: legs that pass the plank without touching it.
  const ending: Ending = random.chance(0.12)
    ? { kind: 'bail-off', atM: random.between(0.6, 2.4), side: random.pick([-1, 1]) }
    : action.ending
  const near = random.chance(0.3)
  const handler = random.chance(0.45)
    ? {
        laneM: (near ? 1 : -1) * camera.side * random.between(0.6, 1.8),
        leadM: random.between(-1.5, 1),
        person: somebody(random),
      }
    : null
  return {
    ...action,
    handler,
    ending,
    pauses,
    climbMps: random.chance(0.3) ? action.climbMps * random.between(0.3, 1) : action.climbMps,
    tipMps: random.chance(0.4) ? action.tipMps * random.between(0.2, 1) : action.tipMps,
    leaveMps: random.chance(0.4) ? random.between(0.4, 1.5) : action.leaveMps,
  }
}

import { FULL_BOARD, TRIPOD } from './parts.ts'
import { Random } from './random.ts'
import type {
  BoardSpec,
  CameraSpec,
  Coat,
  Colour,
  DogSpec,
  DropAction,
  Ending,
  FieldSpec,
  HandlerSpec,
  RideAction,
  Scenario,
  SoundSpec,
} from './scenario.ts'
import { boardEvents, rideEvents } from './simulation/events.ts'
import { record } from './simulation/recording.ts'
import { somebody } from './scene/stage.ts'

const LONGEST_S = 9

/** An invented scenario: any dog from toy to giant, any ordinary board, camera, field and behaviour; one in five is a drop test. */
export function randomScenario(seed: number, number: number): Scenario {
  const random = new Random(seed * 1000 + number)
  const camera = someCamera(random.fork('camera'))
  const board = someBoard(random.fork('board'))
  const action =
    number % 5 === 0 ? someDrop(board, random.fork('action')) : someRide(board, camera, random.fork('action'))
  const draft: Scenario = {
    name: `random-${seed}-${String(number).padStart(2, '0')}`,
    description: describe(action),
    seed: seed * 1000 + number,
    durationS: LONGEST_S,
    board,
    action,
    camera,
    field: someField(random.fork('field')),
    sound: { present: false, windLevel: 0, others: [] },
  }
  const durationS = endOfAction(draft, random.fork('end'))
  return { ...draft, durationS, sound: someSound(durationS, random.fork('sound')) }
}

function describe(action: RideAction | DropAction): string {
  if (action.kind === 'dropTest') return `Drop test with ${action.weightKg} kg by ${action.reach}.`
  return `A dog of ${action.dog.massKg} kg: ${action.ending.kind}.`
}

/** A moment after the last thing that matters; now and then the dog is still on the plank. */
function endOfAction(draft: Scenario, random: Random): number {
  const recording = record(draft)
  const board = boardEvents(draft, recording, LONGEST_S)
  const left = draft.action.kind === 'ride' ? rideEvents(draft, recording, LONGEST_S).leftPlankS : null
  const after = random.between(0.6, 1.3)
  const cutsShort = random.chance(0.08) && board.groundedS !== null && left !== null && left > board.groundedS + 0.3
  const last = cutsShort ? board.groundedS + 0.2 : Math.max(board.groundedS ?? 0, left ?? 0) + after
  return Math.round(10 * Math.min(LONGEST_S, Math.max(3, last))) / 10
}

const PAINTS: readonly Colour[] = [
  [0.05, 0.16, 0.42],
  [0.48, 0.05, 0.04],
  [0.07, 0.26, 0.13],
  [0.66, 0.66, 0.64],
  [0.03, 0.03, 0.035],
  [0.3, 0.09, 0.3],
  [0.42, 0.28, 0.15],
  [0.1, 0.4, 0.5],
]
const ZONES: readonly Colour[] = [
  [0.68, 0.45, 0.04],
  [0.68, 0.45, 0.04],
  [0.55, 0.05, 0.04],
  [0.66, 0.66, 0.64],
  [0.62, 0.2, 0.03],
]

function someBoard(random: Random): BoardSpec {
  const middleColour = random.pick(PAINTS)
  const unlike = ZONES.filter((zone) => Math.abs(zone[0] - middleColour[0]) + Math.abs(zone[1] - middleColour[1]) > 0.3)
  const soft = random.chance(0.2)
  return {
    ...FULL_BOARD,
    lengthM: random.pick([3.6, 3.65, 3.66, 3.7]),
    widthM: random.pick([0.3, 0.3, 0.305]),
    pivotHeightM: random.between(0.58, 0.625),
    contactM: random.pick([0.9, 0.91, 0.914]),
    thicknessM: random.between(0.03, 0.05),
    axisBelowTopM: random.between(0.03, 0.09),
    material: random.pick(['wood', 'aluminium']),
    inertiaKgM2: random.between(13, 32),
    biasTorqueNm: random.between(5.5, 9.5),
    viscousNms: random.chance(0.5) ? random.between(0, 5) : random.between(5, 60),
    coulombNm: random.between(0.3, 1.6),
    restitution: random.between(0.05, 0.35),
    bendMPerN: random.chance(0.3) ? random.between(0.00005, 0.00025) : 0,
    ...(soft ? { groundStiffnessNPerM: random.between(7000, 30000) } : {}),
    middleColour,
    zoneColour: random.pick(unlike.length > 0 ? unlike : ZONES),
    baseColour: random.pick<Colour>([
      [0.16, 0.17, 0.18],
      [0.6, 0.6, 0.6],
      [0.05, 0.05, 0.06],
      [0.25, 0.05, 0.04],
    ]),
  }
}

const COATS: readonly (readonly [Colour, Colour])[] = [
  [
    [0.022, 0.02, 0.02],
    [0.2, 0.1, 0.04],
  ],
  [
    [0.3, 0.13, 0.045],
    [0.035, 0.025, 0.02],
  ],
  [
    [0.42, 0.28, 0.13],
    [0.3, 0.16, 0.06],
  ],
  [
    [0.6, 0.58, 0.54],
    [0.4, 0.33, 0.24],
  ],
  [
    [0.17, 0.19, 0.21],
    [0.04, 0.04, 0.045],
  ],
  [
    [0.09, 0.045, 0.025],
    [0.03, 0.02, 0.015],
  ],
  [
    [0.028, 0.025, 0.024],
    [0.28, 0.14, 0.05],
  ],
  [
    [0.3, 0.26, 0.2],
    [0.08, 0.07, 0.06],
  ],
]

function someDog(random: Random): DogSpec {
  const heightM = random.pick([random.between(0.22, 0.36), random.between(0.36, 0.56), random.between(0.56, 0.78)])
  const girth = random.between(0.9, 1.2)
  const [main, second] = random.pick(COATS)
  const coat: Coat = {
    main,
    second,
    white: [0.62, 0.6, 0.57],
    pattern: random.pick(['plain', 'bordered', 'saddle', 'patched', 'merle', 'masked']),
    socks: random.between(0, 0.6),
  }
  return {
    massKg: Math.round(10 * 80 * heightM ** 2.3 * girth) / 10,
    heightM,
    bodyLength: random.between(0.98, heightM < 0.4 ? 1.3 : 1.12),
    legLength: random.between(heightM < 0.4 ? 0.75 : 0.92, 1.05),
    girth,
    muzzle: random.between(0.7, 1.1),
    ears: random.pick(['prick', 'drop', 'half']),
    tail: random.pick(['plume', 'whip', 'curl', 'docked']),
    hair: random.between(0.008, 0.045),
    coat,
  }
}

function someRide(board: BoardSpec, camera: CameraSpec, random: Random): RideAction {
  const dog = someDog(random)
  const quick = Math.sqrt(dog.heightM / 0.5)
  const ending = someEnding(board, dog, random)
  const brisk = ending.kind === 'fly-off' || ending.kind === 'run-through'
  const approachMps = random.between(brisk ? 2.6 : 1.6, brisk ? 4.8 : 3.4) * quick
  const climbMps = approachMps * random.between(0.65, 0.95)
  const waits = ending.kind === 'hold' && random.chance(0.3)
  return {
    kind: 'ride',
    dog,
    handler: random.chance(0.4) ? someHandler(camera, random) : null,
    startS: random.between(0.5, 0.7),
    startAlongM: -random.between(1.8, 2.6),
    approachMps,
    climbMps,
    tipMps: climbMps * random.between(0.5, 1),
    pauses: waits ? [{ atM: random.between(1.4, 2), forS: random.between(0.3, 1) }] : [],
    ending,
    leaveMps: random.between(1.8, 3.4) * quick,
    gallops: random.chance(brisk ? 0.8 : 0.3),
  }
}

function someEnding(board: BoardSpec, dog: DogSpec, random: Random): Ending {
  const leadFromEndM = random.between(0.12, 0.5)
  const waitS = random.between(0.1, 0.9)
  const leapFromM = board.contactM + random.between(0.08, 0.2)
  const draw = random.unit()
  if (draw < 0.5) return { kind: 'hold', leadFromEndM, waitS }
  if (draw < 0.65) return { kind: 'run-through' }
  if (draw < 0.8) return { kind: 'fly-off', afterTurnDeg: random.between(1, 14) }
  if (draw > 0.93) return { kind: 'bail-off', atM: random.between(0.9, 1.6), side: random.pick([-1, 1]) }
  // A small dog cannot leap over the whole zone.
  if (dog.heightM < 0.4) return { kind: 'hold', leadFromEndM, waitS }
  return { kind: 'leap-zone', leadFromEndM: leapFromM, waitS: random.between(0, 0.4) }
}

/** Mostly on the far side of the plank; sometimes between it and the camera, where the handler hides the dog. */
function someHandler(camera: CameraSpec, random: Random): HandlerSpec {
  const near = random.chance(0.15)
  return {
    laneM: (near ? 1 : -1) * camera.side * random.between(0.9, 1.6),
    leadM: random.between(-1.2, 0.6),
    person: somebody(random),
  }
}

function someDrop(board: BoardSpec, random: Random): DropAction {
  const placedS = random.between(0.9, 1.4)
  return {
    kind: 'dropTest',
    weightKg: random.pick([1, 1, 1.5, 2, 2.5]),
    weightAlongM: board.lengthM - board.contactM / 2,
    placedS,
    releasedS: placedS + random.between(0.25, 0.7),
    reach: random.pick(['hand', 'pole']),
    person: somebody(random),
    weightColour: random.pick(PAINTS),
  }
}

function someCamera(random: Random): CameraSpec {
  const turned = random.chance(0.12)
  const [widthPx, heightPx] = turned
    ? [720, 1280]
    : random.pick([
        [960, 540],
        [1280, 720],
      ] as const)
  const distanceM = random.between(5, 8)
  const fill = random.between(turned ? 0.68 : 0.48, turned ? 0.8 : 0.68)
  // Straight-on, the plank fills this share of the picture's width.
  const focalPx = (fill * widthPx * distanceM) / 3.66
  const captureHz = random.pick([25, 30, 30, 50, 60, 120])
  return {
    ...TRIPOD,
    widthPx,
    heightPx,
    captureHz,
    fileHz: captureHz === 120 ? 30 : captureHz,
    turned,
    side: random.pick([1, -1]),
    distanceM,
    yawDeg: random.between(-16, 16),
    heightM: random.between(0.5, 1.8),
    lookAt: [random.between(-0.15, 0.15), random.between(0.5, 0.8), 0],
    focalMmEquivalent: (36 * focalPx) / Math.max(widthPx, heightPx),
    distortionK: random.chance(0.5) ? random.between(-0.06, 0.06) : 0,
    shakePx: random.chance(0.4) ? random.between(1, 5) : 0,
    follow: random.chance(0.12) ? random.between(0.05, 0.15) : 0,
    exposureS: Math.min(0.9 / captureHz, 1 / random.pick([60, 100, 200, 400, 800])),
    rollingShutterS: random.chance(0.4) ? random.between(0.005, 0.8 / captureHz) : 0,
    noise: random.between(0.004, 0.02),
    flicker: random.chance(0.3) ? random.between(0.01, 0.04) : 0,
    blurPx: random.between(0.35, 0.8),
    crf: random.integer(22, 30),
    variableRate: random.chance(0.12) && captureHz <= 60,
  }
}

function someField(random: Random): FieldSpec {
  const indoors = random.chance(0.2)
  const sky = indoors ? 'cloudy' : random.pick(['fair', 'cloudy', 'evening'] as const)
  return {
    ground: indoors ? random.pick(['sand', 'matting']) : random.pick(['grass', 'grass', 'sand']),
    sky,
    sunShare: sky === 'cloudy' ? random.between(0.05, 0.25) : random.between(0.35, 0.65),
    sunAzimuthDeg: random.between(-70, 70),
    sunHeightDeg: sky === 'evening' ? random.between(18, 32) : random.between(32, 62),
    bystanders: random.integer(0, 3),
    backdrop: indoors ? 'hall' : random.pick(['hedge', 'trees']),
    cloudDrift: random.between(0, 0.6),
  }
}

function someSound(durationS: number, random: Random): SoundSpec {
  const kinds = ['bark', 'clap', 'voice', 'thud'] as const
  return {
    present: random.chance(0.85),
    windLevel: random.between(0.05, 1.5),
    others: Array.from({ length: random.integer(0, 3) }, () => ({
      kind: random.pick(kinds),
      atS: random.between(0.2, durationS - 0.3),
      distanceM: random.between(6, 25),
    })),
  }
}

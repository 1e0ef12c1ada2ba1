import type { BoardTrack } from '../../../analysis/board/board-track.ts'
import { seededRandom, type Random } from '../../../analysis/numeric/random.ts'

/** A plank on an axis between two stops, loaded by something that moves along it: stepped at 4 kHz. */
export interface SimulatedBoard {
  readonly lengthM: number
  readonly inertiaKgM2: number
  readonly biasNm: number
  readonly viscousNms: number
  readonly coulombNm: number
  readonly restitution: number
  readonly restRad: number
  readonly groundRad: number
}

export interface Load {
  readonly massKg: number
  /** Along the plank from the entry end, m. */
  alongM(timeS: number): number
  /** Share of the weight that presses on the board, 0 when nothing is on it. */
  press(timeS: number): number
}

export interface SimulatedMotion {
  readonly stepS: number
  readonly angleRad: Float64Array
  /** Last sinking through 10 mm before the landing, or before 50 mm without landing; null when there is none. */
  readonly tipStartS: number | null
  readonly groundedS: number | null
  /** Highest turn back from the ground before the second contact, m at the exit end; null when it does not come back down. */
  readonly bounceM: number | null
}

const G = 9.80665
const STEP_S = 1 / 4000

export function simulateBoard(board: SimulatedBoard, load: Load, durationS: number): SimulatedMotion {
  const count = Math.ceil(durationS / STEP_S)
  const angleRad = new Float64Array(count)
  const contacts: number[] = []
  let angle = board.restRad
  let speed = 0
  for (let i = 0; i < count; i++) {
    angleRad[i] = angle
    const timeS = i * STEP_S
    const arm = load.alongM(timeS) - board.lengthM / 2
    const press = load.press(timeS)
    const inertia = board.inertiaKgM2 + (press > 0 ? load.massKg * arm * arm : 0)
    const drive = (load.massKg * press * G * arm - board.biasNm) * Math.cos(angle) - board.viscousNms * speed
    let torque = drive - board.coulombNm * Math.sign(speed)
    if (speed === 0) torque = Math.abs(drive) <= board.coulombNm ? 0 : drive - board.coulombNm * Math.sign(drive)
    const before = speed
    speed += (torque / inertia) * STEP_S
    if (before !== 0 && before * speed < 0 && Math.abs(drive) <= board.coulombNm) speed = 0
    angle += speed * STEP_S
    if (angle > board.groundRad) {
      const part = (board.groundRad - angleRad[i]!) / (angle - angleRad[i]!)
      if (before > 1e-4) contacts.push(timeS + part * STEP_S)
      angle = board.groundRad
      speed = Math.abs(speed) < 0.005 ? 0 : -board.restitution * speed
    }
    if (angle < board.restRad) {
      angle = board.restRad
      speed = Math.abs(speed) < 0.005 ? 0 : -board.restitution * speed
    }
  }
  const groundedS = contacts[0] ?? null
  return {
    stepS: STEP_S,
    angleRad,
    groundedS,
    tipStartS: tipStart(board, angleRad, groundedS),
    bounceM:
      contacts.length < 2
        ? angle > board.groundRad - 1e-6
          ? 0
          : null
        : hopHeight(board, angleRad, contacts[0]!, contacts[1]!),
  }
}

function dropM(board: SimulatedBoard, angle: number): number {
  return (board.lengthM / 2) * (Math.sin(angle) - Math.sin(board.restRad))
}

function tipStart(board: SimulatedBoard, angleRad: Float64Array, groundedS: number | null): number | null {
  let until = groundedS === null ? -1 : Math.floor(groundedS / STEP_S)
  if (groundedS === null) until = angleRad.findIndex((angle) => dropM(board, angle) > 0.05)
  for (let i = until; i > 0; i--) {
    const [a, b] = [dropM(board, angleRad[i - 1]!), dropM(board, angleRad[i]!)]
    if (a < 0.01 && b >= 0.01) return (i - 1 + (0.01 - a) / (b - a)) * STEP_S
  }
  return null
}

function hopHeight(board: SimulatedBoard, angleRad: Float64Array, fromS: number, toS: number): number {
  const hop = angleRad.slice(Math.ceil(fromS / STEP_S), Math.floor(toS / STEP_S))
  const lowest = hop.reduce((least, angle) => Math.min(least, angle), board.groundRad)
  return dropM(board, board.groundRad) - dropM(board, lowest)
}

export interface Filming {
  readonly rateHz: number
  /** Time of the first frame in the simulation, s. */
  readonly fromS: number
  readonly toS: number
  readonly noiseRad: number
  /** Share of frames in which the board is not found, and in which it is found wrongly. */
  readonly missing: number
  readonly wild: number
  /** Frame times wander by this share of a frame (variable frame rate). */
  readonly jitter: number
  /** Share of a frame during which the shutter is open. */
  readonly shutter: number
  /** Relative error of all turns, and what the track says of it. */
  readonly scale: number
  readonly scaleSd: number
}

export const CLEAN_FILMING: Filming = {
  rateHz: 30,
  fromS: 0,
  toS: Infinity,
  noiseRad: 1e-3,
  missing: 0,
  wild: 0,
  jitter: 0,
  shutter: 0,
  scale: 0,
  scaleSd: 0,
}

export function filmBoard(
  board: SimulatedBoard,
  motion: SimulatedMotion,
  filming: Filming,
  random: Random,
): BoardTrack {
  const frames: { ptsS: number; angle: number; seen: number }[] = []
  const endS = Math.min(filming.toS, (motion.angleRad.length - 1) * motion.stepS)
  const frameS = 1 / filming.rateHz
  for (let n = 0; ; n++) {
    const ptsS = filming.fromS + (n + filming.jitter * (random.uniform() - 0.5)) * frameS
    if (ptsS + frameS > endS) break
    if (ptsS < frameS) continue
    const opens = 8
    let sum = 0
    for (let k = 0; k < opens; k++) {
      sum += angleAt(motion, ptsS + ((k + 0.5) / opens - 0.5) * filming.shutter * frameS)
    }
    const wild = random.uniform() < filming.wild ? 0.2 * random.normal() : 0
    const turn = (sum / opens - board.restRad) * (1 + filming.scale)
    frames.push({
      ptsS,
      angle: board.restRad + turn + wild + filming.noiseRad * random.normal(),
      seen: random.uniform() < filming.missing ? 0 : 1,
    })
  }
  return {
    ptsS: Float64Array.from(frames, (frame) => frame.ptsS),
    angleRad: Float64Array.from(frames, (frame) => (frame.seen ? frame.angle : NaN)),
    sdRad: Float64Array.from(frames, (frame) => (frame.seen ? filming.noiseRad : NaN)),
    seen: Uint8Array.from(frames, (frame) => frame.seen),
    restAngleRad: board.restRad,
    commonSdRad: 1e-3,
    scaleSd: filming.scaleSd,
    lengthM: board.lengthM,
  }
}

function angleAt(motion: SimulatedMotion, timeS: number): number {
  const place = Math.min(Math.max(timeS / motion.stepS, 0), motion.angleRad.length - 1.001)
  const i = Math.floor(place)
  const [a, b] = [motion.angleRad[i]!, motion.angleRad[i + 1]!]
  return a + (place - i) * (b - a)
}

/** One random board with a random load: a scene of the coverage trials. */
export interface Scene {
  readonly board: SimulatedBoard
  readonly load: Load
  readonly durationS: number
}

export type SceneKind = 'walking' | 'leaping' | 'hesitating' | 'heavy' | 'drop'

export function randomScene(kind: SceneKind, seed: number): Scene {
  const random = seededRandom(seed)
  const between = (low: number, high: number): number => low + (high - low) * random.uniform()
  const lengthM = between(3.6, 3.8)
  const steep = between(0.3, 0.35)
  const board = {
    lengthM,
    inertiaKgM2: between(9, 20),
    biasNm: between(2, 9),
    viscousNms: between(0, 40),
    coulombNm: between(0.1, 1),
    restitution: between(0, 0.4),
    restRad: -steep,
    groundRad: steep + 0.017 * random.normal(),
  }
  const half = lengthM / 2
  const arriveS = between(1, 1.4)
  if (kind === 'drop') {
    const massKg = between(0.9, 1.5)
    const armM = half - between(0.3, 0.457)
    const mostBias = massKg * G * armM - board.coulombNm
    const weight = { massKg, alongM: () => half + armM, press: (timeS: number) => ramp((timeS - arriveS) / 0.15) }
    const slow = { ...board, biasNm: mostBias * between(0.4, 0.85), viscousNms: between(0, 4) }
    return { board: slow, load: weight, durationS: 7 }
  }
  const massKg = between(5, 35)
  const speed = between(0.7, 2)
  const stopM = lengthM - between(0.15, 0.7)
  const sway = between(0, 0.3)
  const swayHz = between(2, 5)
  const phase = between(0, 6)
  const walk = (timeS: number): number => Math.min(speed * (timeS - arriveS), stopM)
  const press = (timeS: number): number =>
    ramp((timeS - arriveS) / 0.1) * (1 + sway * Math.sin(2 * Math.PI * swayHz * timeS + phase))
  const heavy = { ...board, inertiaKgM2: between(16, 30), viscousNms: between(100, 300) }
  if (kind === 'heavy') return { board: heavy, load: { massKg, alongM: walk, press }, durationS: 8 }
  if (kind === 'leaping') {
    const leaveS = arriveS + (half + between(0.7, 1.5)) / speed
    const leap = (timeS: number): number => press(timeS) * (timeS < leaveS ? 1 : 0)
    return { board, load: { massKg, alongM: walk, press: leap }, durationS: 7 }
  }
  if (kind === 'hesitating') {
    // The dog stops near the balance point and shifts its weight to and fro before it goes on.
    const balanceM = half + board.biasNm / (massKg * G)
    const reachS = arriveS + balanceM / speed
    const waitS = between(0.5, 1.5)
    const sizeM = between(0.02, 0.12)
    const shiftHz = between(0.7, 1.5)
    const dither = (timeS: number): number => {
      if (timeS < reachS) return Math.max(speed * (timeS - arriveS), 0)
      if (timeS < reachS + waitS) return balanceM + sizeM * Math.sin(2 * Math.PI * shiftHz * (timeS - reachS))
      return Math.min(balanceM + speed * (timeS - reachS - waitS), stopM)
    }
    return { board, load: { massKg, alongM: dither, press }, durationS: 8 }
  }
  return { board, load: { massKg, alongM: walk, press }, durationS: 6 }
}

function ramp(part: number): number {
  return Math.min(Math.max(part, 0), 1)
}

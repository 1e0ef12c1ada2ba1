import type { Measured } from '../estimate.ts'
import { normalCdf, normalDensity } from '../numeric/normal.ts'
import { BOARD_HABITS, type BoardCurve } from './board-curve.ts'
import { filterForward, type Readings } from './motion-curve.ts'
import { motionFrom, moveMotion, readPlace, type MotionState } from './motion-filter.ts'
import { passedFromWeights, valueFromPassed } from './grid-posterior.ts'
import { timingFloorS } from './timing-floor.ts'

/** What is known of the turn at which the exit end meets the ground. */
export interface GroundLevel {
  /** Turn from rest, rad. */
  readonly turnRad: number
  readonly sdRad: number
}

export interface Landing {
  /** s. */
  readonly time: Measured
  /** Turn from rest at the first contact, rad. */
  readonly ground: GroundLevel
  /** Turning speed just before the contact, rad/s. */
  readonly speedRadS: number
  /** Probability that the board touched the ground at all, against a smooth turn in the air. */
  readonly touched: number
}

/** Frames after the last possible contact that tell fall from stop, s. */
const AFTER_S = 0.25
/** Frames before the first possible contact that tell how it fell, s. */
const BEFORE_S = 0.4

/** A plank that bends as it strikes shows up to this far below its level at rest on the ground, rad (0.3 deg). */
export const OVERSHOOT_RAD = 5e-3

/**
 * How far turf and sand give way before they throw an end back, rad, and how likely: most boards stand on firm ground, in
 * soft ground a dog drives an end 1 to 6 cm in. From experience, no source.
 */
const DIPS = [
  { depthRad: 0, share: 0.9 },
  ...[0.006, 0.011, 0.02, 0.035].map((depthRad) => ({ depthRad, share: 0.025 })),
]
/** Where an end was driven in, the weight on it keeps it down by this share of the depth, mean and sd. */
const LYING_DIP = 0.2
const LYING_DIP_SD = 0.15
/** An end is never driven deeper than this below where it comes to lie, rad (2.3 deg). */
export const DEEPEST_DIP_RAD = 0.04

/** Share of its speed that an end keeps when it springs back, mean and sd: rubber on grass 0 to metal on stone 0.5. */
const RESTITUTION = 0.2
const RESTITUTION_SD = 0.2
/** How much the torque may change at the contact (paws leave or land), as acceleration, 1 sd, rad/s2. */
const TORQUE_CHANGE = 5

/**
 * When the exit end first touches the ground.
 *
 * For every instant on a fine grid: the frames before it must be one smooth fall that arrives at the ground just then;
 * those after it a spring back from the ground with a share of the arrival's speed, and after any number of frames
 * rest on the ground or further hops. How well that explains all frames weighs the instants.
 *
 * @param curve the board's turn
 * @param fallS when the fall began, s: no frame before it is used
 * @param fromS first possible contact, s
 * @param toS last possible contact, s
 * @param ground where the ground is
 * @returns null when no frame was seen before the contact
 */
export function findLanding(
  curve: BoardCurve,
  fallS: number,
  fromS: number,
  toS: number,
  ground: GroundLevel,
): Landing | null {
  const { readings, frameS } = curve
  const { timesS } = readings
  const first = timesS.findIndex((timeS, i) => timeS >= Math.max(fallS, fromS - BEFORE_S) || i === timesS.length - 1)
  const end = timesS.findIndex((timeS, i) => timeS > toS + AFTER_S && i > first)
  const part = partOf(readings, first, end < 0 ? timesS.length : end)
  const cells = cellsBetween(timesS, first, part.to, fromS, toS)
  if (cells.length === 0) return null
  const contacts: Contact[] = []
  const smooth: number[] = []
  for (const jerkDensity of BOARD_HABITS.jerkDensities) {
    const pass = filterForward(readings, first, part.to, BOARD_HABITS, jerkDensity)
    const settling = logSettling(part, ground, jerkDensity)
    smooth.push(pass.logEvidences[part.to - 1 - first]!)
    for (const cell of cells) {
      const before = pass.states[cell.after - first]!
      const beforeLog = pass.logEvidences[cell.after - first]!
      for (const { depthRad, share } of DIPS) {
        const contact = contactAt(part, cell, before, ground, jerkDensity, settling, depthRad)
        if (contact === null) continue
        contacts.push({ ...contact, logWeight: contact.logWeight + beforeLog + Math.log(share) })
      }
    }
  }
  if (contacts.length === 0) return null
  const best = contacts.reduce((most, contact) => Math.max(most, contact.logWeight), -Infinity)
  const weights = new Float64Array(cells.length)
  const sum = { weight: 0, turn: 0, turn2: 0, speed: 0 }
  for (const contact of contacts) {
    const { cell, turnRad, turnVar, speedRadS } = contact
    const weight = Math.exp(contact.logWeight - best) * (cells[cell]!.toS - cells[cell]!.fromS)
    weights[cell]! += weight
    sum.weight += weight
    sum.turn += weight * turnRad
    sum.turn2 += weight * (turnRad ** 2 + turnVar)
    sum.speed += weight * speedRadS
  }
  const turnRad = sum.turn / sum.weight
  const spanS = cells[cells.length - 1]!.toS - cells[0]!.fromS
  const touchLog = best + Math.log(sum.weight / spanS)
  const airLog = logSum(smooth) + Math.log(normalCdf((ground.turnRad - part.furthestRad[0]!) / ground.sdRad))
  return {
    time: valueFromPassed(
      [cells[0]!.fromS, ...cells.map((cell) => cell.toS)],
      passedFromWeights(weights),
      timingFloorS(frameS),
    ),
    ground: { turnRad, sdRad: Math.sqrt(Math.max(sum.turn2 / sum.weight - turnRad ** 2, 0)) },
    speedRadS: sum.speed / sum.weight,
    touched: 1 / (1 + Math.exp(airLog - touchLog)),
  }
}

/** The frames that decide, `first` to `to` (one beyond). */
interface Part {
  readonly readings: Readings
  readonly first: number
  readonly to: number
  /** Furthest turn of each frame and all later ones, rad, counted from `first`. */
  readonly furthestRad: Float64Array
}

function partOf(readings: Readings, first: number, to: number): Part {
  const furthestRad = new Float64Array(to - first + 1).fill(-Infinity)
  for (let i = to - 1; i >= first; i--) {
    furthestRad[i - first] = Math.max(furthestRad[i + 1 - first]!, readings.places[i]!)
  }
  return { readings, first, to, furthestRad }
}

/** A short piece of time in which the contact may lie; `after` is the last frame before it. */
interface Cell {
  readonly index: number
  readonly fromS: number
  readonly toS: number
  readonly after: number
}

/** The landing is looked for in cells of about this length, s, and in this many between two frames. */
const CELL_S = 0.002
const CELLS_A_FRAME = { min: 4, max: 60 } as const

function cellsBetween(timesS: Float64Array, first: number, to: number, fromS: number, toS: number): Cell[] {
  const cells: Cell[] = []
  for (let after = first; after + 1 < to; after++) {
    const startS = timesS[after]!
    const endS = timesS[after + 1]!
    if (endS <= fromS || startS >= toS) continue
    const count = Math.min(Math.max(Math.ceil((endS - startS) / CELL_S), CELLS_A_FRAME.min), CELLS_A_FRAME.max)
    for (let n = 0; n < count; n++) {
      const stepS = (endS - startS) / count
      cells.push({ index: cells.length, fromS: startS + n * stepS, toS: startS + (n + 1) * stepS, after })
    }
  }
  return cells
}

interface Contact {
  readonly cell: number
  readonly logWeight: number
  readonly turnRad: number
  readonly turnVar: number
  readonly speedRadS: number
}

/** A contact so far from the ground, sds, or so unlikely to fall onto it from above, explains nothing. */
const FAR_SDS = 6
const LEAST_CHANCE = 1e-9
/** Ground that gives way does so by no more than this many times its usual dip. */
const FURTHEST_DIP = 1.5
/** A board thrown back by nothing still trembles: (0.01 rad/s)^2. */
const LEAST_SPRING_VAR = 1e-4

/** How well a contact in one cell explains the frames after it, and the ground the fall arrives at. */
function contactAt(
  part: Part,
  cell: Cell,
  before: MotionState,
  ground: GroundLevel,
  jerkDensity: number,
  settling: Float64Array,
  dipRad: number,
): Contact | null {
  const { readings } = part
  const atS = (cell.fromS + cell.toS) / 2
  const arriving = moveMotion(before, atS - readings.timesS[cell.after]!, jerkDensity)
  const meetsRad = ground.turnRad - LYING_DIP * dipRad
  const meetsVar = ground.sdRad ** 2 + (LYING_DIP_SD * dipRad) ** 2
  const missRad = arriving.x - meetsRad
  const missVar = arriving.xx + meetsVar
  if (missRad ** 2 > FAR_SDS ** 2 * missVar) return null
  const arrived = readPlace(arriving, meetsRad, meetsVar, NO_OUTLIERS).state
  // A board that has been lower already does not meet the ground here.
  if (deepest(part, cell.after) - arrived.x > DEEPER_RAD + 4 * Math.sqrt(arrived.xx)) return null
  const falling = normalCdf(arrived.v / Math.sqrt(arrived.vv))
  // Nothing turns further than the ground, but for its giving way and the bending of the plank as it strikes.
  const beyondRad = part.furthestRad[cell.after + 1 - part.first]! - arrived.x - FURTHEST_DIP * dipRad - OVERSHOOT_RAD
  const above = normalCdf(-beyondRad / Math.sqrt(arrived.xx + readings.variances[cell.after]!))
  if (falling * above < LEAST_CHANCE) return null
  const speed = Math.max(arrived.v, 0)
  const start = dipRad > 0 ? dippingFrom(arrived, speed, dipRad) : springingFrom(arrived, speed)
  return {
    cell: cell.index,
    logWeight:
      Math.log((normalDensity(missRad / Math.sqrt(missVar)) / Math.sqrt(missVar)) * falling * above) +
      logAfter(part, cell.after + 1, start, atS, jerkDensity, settling),
    turnRad: arrived.x,
    turnVar: arrived.xx,
    speedRadS: speed,
  }
}

/** Just after the contact with firm ground: thrown back with a share of the speed. */
function springingFrom(arrived: MotionState, speed: number): MotionState {
  const springVar = RESTITUTION ** 2 * arrived.vv + (RESTITUTION_SD * speed) ** 2 + LEAST_SPRING_VAR
  return motionFrom(arrived.x, -RESTITUTION * speed, arrived.a, arrived.xx, springVar, arrived.aa + TORQUE_CHANGE ** 2)
}

/** Just after the contact with ground that gives way: as fast as before, braked so that it turns about `dipRad` further down. */
function dippingFrom(arrived: MotionState, speed: number, dipRad: number): MotionState {
  const braking = speed ** 2 / (2 * dipRad)
  return motionFrom(arrived.x, speed, -braking, arrived.xx, arrived.vv, braking ** 2 + TORQUE_CHANGE ** 2)
}

const NO_OUTLIERS = { share: 0, range: 1 }

/** Evidence of the frames after a contact: some of them in the air, springing back, all later ones `settling`. */
function logAfter(
  part: Part,
  from: number,
  start: MotionState,
  contactS: number,
  jerkDensity: number,
  settling: Float64Array,
): number {
  const { readings, first, to } = part
  if (from >= to) return 0
  const atFirst = moveMotion(start, readings.timesS[from]! - contactS, jerkDensity)
  const flight = filterForward(readings, from, to, BOARD_HABITS, jerkDensity, atFirst).logEvidences
  const logs = [settling[from - first]!]
  flight.forEach((log, n) => logs.push(log + settling[from + n + 1 - first]!))
  return logSum(logs) - Math.log(logs.length)
}

/**
 * Evidence of all frames from each frame on (counted from the part's first), when the board is back on the ground just
 * before it: it lies there, or it hops once more for any number of frames, and so on.
 */
function logSettling(part: Part, ground: GroundLevel, jerkDensity: number): Float64Array {
  const { readings, first, to } = part
  const { timesS, places, variances } = readings
  const settling = new Float64Array(to - first + 1)
  let lying = 0
  for (let i = to - 1; i > first; i--) {
    lying += lyingLog(places[i]! - ground.turnRad, variances[i]! + ground.sdRad ** 2)
    // The contact lies anywhere between the two frames: on average half way.
    const sinceS = (timesS[i]! - timesS[i - 1]!) / 2
    const contactVar = ground.sdRad ** 2 + (HOP_SPEED * sinceS) ** 2 / 3
    const start = motionFrom(ground.turnRad, -HOP_SPEED, 0, contactVar, HOP_SPEED ** 2, HOP_ACCELERATION ** 2)
    const atFrame = moveMotion(start, sinceS, jerkDensity)
    const flight = filterForward(readings, i, to, BOARD_HABITS, jerkDensity, atFrame).logEvidences
    const hops = Array.from(flight, (log, n) => log + settling[i + n + 1 - first]!)
    settling[i - first] = logSum([lying + Math.log(1 - HOP_SHARE), logSum(hops) + Math.log(HOP_SHARE / hops.length)])
  }
  return settling
}

/** A frame of a board lying on the ground; it may tremble a little, or be misread. */
function lyingLog(offRad: number, variance: number): number {
  const density = (spread: number): number => normalDensity(offRad / Math.sqrt(spread)) / Math.sqrt(spread)
  const { share, range } = BOARD_HABITS.outliers
  return Math.log(0.9 * density(variance) + (0.1 - share) * density(variance + TREMBLE_RAD ** 2) + share / range)
}

/** Trembling of a plank that was struck, 1 sd, rad (0.2 deg). */
const TREMBLE_RAD = 3.5e-3

/** Chance, before looking, that a board that touched the ground once more hops again, and how: rad/s and rad/s2. */
const HOP_SHARE = 0.3
const HOP_SPEED = 0.15
const HOP_ACCELERATION = 10

function logSum(logs: readonly number[]): number {
  const most = Math.max(...logs)
  return most + Math.log(logs.reduce((sum, log) => sum + Math.exp(log - most), 0))
}

/** The ground gives, and planks bend, by about this, rad (0.1 deg). */
const DEEPER_RAD = 1.7e-3

/** The second highest turn read up to a frame: one reading may be wild. */
function deepest({ readings, first }: Part, until: number): number {
  let most = -Infinity
  let second = -Infinity
  for (let i = first; i <= until; i++) {
    const place = readings.places[i]!
    if (place > most) {
      second = most
      most = place
    } else if (place > second) second = place
  }
  return second
}

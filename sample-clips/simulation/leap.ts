import { smoothStep } from '../random.ts'
import type { BoardSpec } from '../scenario.ts'
import { addScaled, norm, scale, subtract, type Vec3 } from '../world/vector.ts'
import type { BoardPlace } from './board-place.ts'
import { CENTRE_SHARE, isFore, pawSide, type DogFrame } from './dog-frame.ts'
import type { Foothold } from './foothold.ts'
import type { Paw } from './paw.ts'
import { centreOf, type Trunk } from './trunk.ts'

const GRAVITY_MPS2 = 9.80665
const NOSE_UP_RAD = 0.28
const NOSE_DOWN_RAD = -0.3

export interface LeapStart {
  readonly nowS: number
  readonly alongM: number
  readonly speedMps: number
  readonly middleZ: number
  readonly landingZ: number
  /** The x that the fore paws must land beyond; null for a leap to the side. */
  readonly overEndX: number | null
  readonly leaveMps: number
}

interface Push {
  readonly sinceS: number
  readonly lastsS: number
  readonly from: Vec3
  readonly fromVelocity: Vec3
  readonly takeOffVelocity: Vec3
  readonly pitchRad: number
  readonly trunkM: number
  readonly flightS: number
}

/** A leap: gather the hind paws under the body, push off, fly free, land fore paws first. */
export class Leap {
  phase: 'gathering' | 'pushing' | 'flying' | 'landing' | 'landed' = 'gathering'
  /** Weight felt by the plank over weight at rest. */
  weightFactor = 1
  readonly landingZ: number
  private readonly board: BoardSpec
  private readonly frame: DogFrame
  private readonly paws: readonly Paw[]
  private readonly start: LeapStart
  private centre: Vec3 | null = null
  private velocity: Vec3
  private pitchRad = 0
  private push: Push | null = null

  constructor(board: BoardSpec, frame: DogFrame, paws: readonly Paw[], start: LeapStart) {
    this.board = board
    this.frame = frame
    this.paws = paws
    this.start = start
    this.landingZ = start.landingZ
    this.velocity = [start.speedMps, 0, 0]
    const gatherS = 0.15 * Math.sqrt(frame.heightM / 0.5)
    const limitZ = board.widthM / 2 - 0.025
    const underM = Math.min(board.lengthM - 0.08, start.alongM + start.speedMps * gatherS - 0.25 * frame.baseM)
    for (const i of [2, 3]) {
      const z = Math.max(-limitZ, Math.min(limitZ, start.middleZ + pawSide(i) * frame.hindHalfWidthM))
      const to: Foothold = { on: 'plank', alongM: underM + (i === 2 ? 0.03 : 0), z }
      paws[i]!.retarget(to)
      paws[i]!.step(to, start.nowS, gatherS * (i === 2 ? 1 : 0.8), 0.1 * frame.heightM)
    }
  }

  get speedMps(): number {
    return this.velocity[0]
  }

  /** Moves on by one step of time; `trunk` is the walking pose, which counts while gathering. */
  step(stepS: number, nowS: number, at: BoardPlace, trunk: Trunk): Trunk {
    if (this.phase === 'gathering') {
      const centre = centreOf(trunk)
      if (this.centre) this.velocity = scale(subtract(centre, this.centre), 1 / stepS)
      this.centre = centre
      if (nowS > this.start.nowS + 0.08 && this.paws.every((p) => p.planted)) this.beginPush(nowS, at, trunk)
      return trunk
    }
    const push = this.push!
    if (this.phase === 'pushing') this.pushOn(push, nowS, at)
    else this.fall(push, stepS, nowS)
    const nose: Vec3 = [Math.cos(this.pitchRad), Math.sin(this.pitchRad), 0]
    return {
      shoulder: addScaled(this.centre!, nose, CENTRE_SHARE * push.trunkM),
      hip: addScaled(this.centre!, nose, (CENTRE_SHARE - 1) * push.trunkM),
    }
  }

  private beginPush(nowS: number, at: BoardPlace, trunk: Trunk): void {
    const { frame, start } = this
    const from = centreOf(trunk)
    const lean = subtract(trunk.shoulder, trunk.hip)
    const lastsS = 0.17 * Math.sqrt(frame.heightM / 0.5)
    const riseMps = Math.sqrt(2 * GRAVITY_MPS2 * (0.08 + 0.16 * frame.heightM))
    const dropM = Math.max(0, from[1] + 0.5 * riseMps * lastsS - 0.95 * frame.shoulderUpM)
    const flightS = (riseMps + Math.sqrt(riseMps ** 2 + 2 * GRAVITY_MPS2 * dropM)) / GRAVITY_MPS2
    const pawsAheadM = CENTRE_SHARE * frame.baseM + 0.12 * frame.heightM
    const landAtX =
      start.overEndX === null ? from[0] + 0.7 * flightS * 2 : start.overEndX + 0.25 + 0.6 * frame.heightM - pawsAheadM
    const fromVelocity: Vec3 = [this.velocity[0], Math.max(-1, Math.min(0.6, this.velocity[1])), 0]
    const forwardMps = Math.max(
      0.8,
      Math.min(5.5, (landAtX - from[0] - 0.5 * fromVelocity[0] * lastsS) / (flightS + 0.5 * lastsS)),
    )
    const asideMps = (start.landingZ - from[2]) / flightS
    const takeOffVelocity: Vec3 = [forwardMps, riseMps, asideMps]
    this.push = {
      sinceS: nowS,
      lastsS,
      from,
      fromVelocity,
      takeOffVelocity,
      pitchRad: Math.atan2(lean[1], lean[0]),
      trunkM: norm(lean),
      flightS,
    }
    this.phase = 'pushing'
    const touchX = from[0] + 0.5 * (fromVelocity[0] + forwardMps) * lastsS + forwardMps * flightS + pawsAheadM
    for (const i of [0, 1])
      this.lift(
        i,
        trunk.shoulder,
        nowS,
        at,
        nowS + lastsS + flightS + (i === 0 ? 0.03 : 0),
        touchX + (i === 0 ? 0.06 : 0),
      )
  }

  private pushOn(push: Push, nowS: number, at: BoardPlace): void {
    const t = Math.min(1, (nowS - push.sinceS) / push.lastsS)
    const pushMps2 = scale(subtract(push.takeOffVelocity, push.fromVelocity), 1 / push.lastsS)
    const sinceS = t * push.lastsS
    this.centre = addScaled(addScaled(push.from, push.fromVelocity, sinceS), pushMps2, 0.5 * sinceS * sinceS)
    this.velocity = addScaled(push.fromVelocity, pushMps2, sinceS)
    this.pitchRad = push.pitchRad + (NOSE_UP_RAD - push.pitchRad) * smoothStep(t)
    this.weightFactor = 1 + Math.max(-0.8, pushMps2[1] / GRAVITY_MPS2)
    if (t < 1) return
    this.phase = 'flying'
    this.weightFactor = 0
    const nose: Vec3 = [Math.cos(this.pitchRad), Math.sin(this.pitchRad), 0]
    const hip = addScaled(this.centre, nose, (CENTRE_SHARE - 1) * push.trunkM)
    const landsS = nowS + push.flightS + 0.13 * Math.sqrt(this.frame.heightM / 0.5)
    const forelegX = this.centre[0] + this.velocity[0] * push.flightS + CENTRE_SHARE * this.frame.baseM
    // The hind paws, too, come down clear of the end that they leap over.
    const hindX = this.start.overEndX === null ? -Infinity : this.start.overEndX + 0.1
    for (const i of [2, 3])
      this.lift(i, hip, nowS, at, landsS + (i === 2 ? 0.02 : 0), Math.max(hindX, forelegX - 0.45 * this.frame.baseM))
  }

  /** A paw leaves the plank, is carried with the body and reaches for its landing place. */
  private lift(paw: number, girdle: Vec3, nowS: number, at: BoardPlace, landsS: number, landX: number): void {
    const h = this.frame.heightM
    const fore = isFore(paw)
    const half = fore ? this.frame.foreHalfWidthM : this.frame.hindHalfWidthM
    const from = subtract(this.paws[paw]!.world(this.board, at, girdle, nowS), girdle)
    const via: Vec3 = fore ? [0.22 * h, -0.4 * h, pawSide(paw) * half] : [-0.2 * h, -0.3 * h, pawSide(paw) * half]
    const to: Foothold = { on: 'ground', xM: landX, z: this.start.landingZ + pawSide(paw) * half }
    this.paws[paw]!.takeOff(from, via, to, nowS, landsS)
  }

  /** Free flight, then the fore legs catch the body like a damped spring. */
  private fall(push: Push, stepS: number, nowS: number): void {
    const [x, y, z] = this.centre!
    const [vx, vy, vz] = this.velocity
    const standM = 0.97 * this.frame.shoulderUpM
    const landed = this.paws[0]!.planted !== null || this.paws[1]!.planted !== null
    if (landed) this.phase = 'landing'
    const upMps2 = landed ? 260 * (standM - y) - 26 * vy : -GRAVITY_MPS2
    const forwardMps2 = landed ? (this.start.leaveMps - vx) / 0.2 : 0
    this.velocity = [vx + forwardMps2 * stepS, vy + upMps2 * stepS, landed ? 0 : vz]
    this.centre = [
      x + vx * stepS,
      y + this.velocity[1] * stepS,
      landed ? z + (this.start.landingZ - z) * Math.min(1, stepS / 0.05) : z + vz * stepS,
    ]
    const t = (nowS - push.sinceS - push.lastsS) / push.flightS
    this.pitchRad =
      t < 1
        ? NOSE_UP_RAD + (NOSE_DOWN_RAD - NOSE_UP_RAD) * smoothStep(t)
        : NOSE_DOWN_RAD * (1 - smoothStep((t - 1) / 0.5))
    if (landed && this.paws.every((p) => p.planted)) this.phase = 'landed'
  }
}

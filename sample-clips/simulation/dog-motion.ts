import { smoothStep, wander, type Random } from '../random.ts'
import type { BoardSpec, RideAction } from '../scenario.ts'
import { add, mix, scale, subtract, unit, type Vec3 } from '../world/vector.ts'
import type { Load } from './board-motion.ts'
import { plankFromWorld, type BoardPlace } from './board-place.ts'
import { CENTRE_SHARE, dogFrame, isFore, pawSide, type DogFrame } from './dog-frame.ts'
import { ApproachLane } from './approach-lane.ts'
import { FlatWay, SeesawWay, type Foothold, type Way } from './foothold.ts'
import { strideAt, type Stride } from './gait.ts'
import { Leap } from './leap.ts'
import { Paw } from './paw.ts'
import { SpeedPlan } from './speed-plan.ts'
import { centreOf, type Trunk } from './trunk.ts'

/** What happens around the dog in one step of time. */
export interface Surroundings {
  readonly nowS: number
  readonly stepS: number
  readonly at: BoardPlace
  /** How far the board has turned from rest. */
  readonly turnedRad: number
  readonly groundedS: number | null
}

/** A dog that walks, trots or gallops over ground and plank, waits, and leaps; stepped together with the board. */
export class DogMotion {
  readonly frame: DogFrame
  readonly paws: readonly Paw[]
  alongM: number
  speedMps = 0
  /** Strides done. */
  phase: number
  stride: Stride
  trunk: Trunk
  private readonly board: BoardSpec
  private readonly action: RideAction
  private readonly plan: SpeedPlan
  private readonly random: Random
  private readonly sway: (timeS: number) => number
  private readonly seesaw: SeesawWay
  private way: Way
  private leap: Leap | null = null
  private middleZ: number
  private readonly laneZ: number
  private readonly lane: ApproachLane | null
  private readonly pawJitterZ = [0, 0, 0, 0]
  /** Share of each girdle's weight that the plank carries: fore, hind. */
  private readonly onPlank: [number, number] = [0, 0]
  private crouch = 1
  private fading: { readonly shoulder: Vec3; readonly hip: Vec3; readonly sinceS: number } | null = null

  constructor(board: BoardSpec, action: RideAction, random: Random, at: BoardPlace) {
    this.board = board
    this.action = action
    this.random = random
    this.seesaw = new SeesawWay(board)
    this.way = this.seesaw
    this.plan = new SpeedPlan(action)
    this.frame = dogFrame(action.dog)
    this.alongM = action.startAlongM
    this.phase = random.unit()
    this.sway = wander(random, 0.3, 0.9)
    this.laneZ = random.between(-0.04, 0.04)
    this.middleZ = this.laneZ
    this.lane = action.approach === undefined ? null : new ApproachLane(action.approach)
    this.stride = this.strideNow()
    this.paws = [0, 1, 2, 3].map((paw) => new Paw(this.foothold(this.neutralM(paw), paw)))
    this.trunk = this.standingTrunk(at)
  }

  /** Whether the dog is in the air between push-off and landing. */
  get flying(): boolean {
    return this.leap?.phase === 'flying'
  }

  step(now: Surroundings): void {
    if (now.nowS < this.action.startS) return
    for (const paw of this.paws) paw.settle(now.nowS)
    if (this.leap) this.stepLeap(this.leap, now)
    else {
      this.walk(now)
      this.trunk = this.faded(this.standingTrunk(now.at), now.nowS)
      if (this.wantsLeap(now)) this.leap = this.startLeap(now)
    }
    this.weighOnPlank(now.stepS)
    const walkedOff =
      this.way === this.seesaw && !this.leap && this.alongM > this.board.lengthM && this.paws.every((p) => p.onGround)
    if (walkedOff) this.goFlat(new FlatWay(this.seesaw.exitX - this.board.lengthM), now)
  }

  /** What the plank carries: standing 58 % at the shoulders and 42 % at the hips; in a push-off all at the hips. */
  loads(at: BoardPlace): Load[] {
    const pushing = this.leap?.phase === 'pushing'
    const shares = pushing ? [0, 1] : [1 - CENTRE_SHARE, CENTRE_SHARE]
    return [this.trunk.shoulder, this.trunk.hip].flatMap((point, i) => {
      const massKg = this.action.dog.massKg * shares[i]! * this.onPlank[i]!
      if (massKg < 1e-3) return []
      return [{ ...plankFromWorld(this.board, at, point), massKg, factor: this.leap?.weightFactor ?? 1 }]
    })
  }

  private strideNow(): Stride {
    return strideAt(this.speedMps, this.frame.hipUpM, this.action.gallops)
  }

  /** Along of the place under a girdle, where its paw stands at rest. */
  private neutralM(paw: number): number {
    return this.alongM + (isFore(paw) ? CENTRE_SHARE : CENTRE_SHARE - 1) * this.frame.baseM
  }

  private foothold(alongM: number, paw: number): Foothold {
    const half = isFore(paw) ? this.frame.foreHalfWidthM : this.frame.hindHalfWidthM
    return this.way.foothold(alongM, this.middleAt(alongM) + pawSide(paw) * half + this.pawJitterZ[paw]!)
  }

  /** The dog's middle line, z, where it is `alongM`. */
  private middleAt(alongM: number): number {
    return this.middleZ + (this.way === this.seesaw && this.lane !== null ? this.lane.asideM(alongM) : 0)
  }

  private walk(now: Surroundings): void {
    const wish =
      this.way === this.seesaw
        ? this.plan.wish({
            nowS: now.nowS,
            alongM: this.alongM,
            speedMps: this.speedMps,
            lengthM: this.board.lengthM,
            foreAheadM: CENTRE_SHARE * this.frame.baseM,
            groundedS: now.groundedS,
          })
        : { speedMps: this.action.leaveMps, pawLimitM: Infinity }
    const accelerationMps2 = Math.max(-9, Math.min(5, (wish.speedMps - this.speedMps) / 0.06))
    this.speedMps = Math.max(0, this.speedMps + accelerationMps2 * now.stepS)
    this.alongM += this.speedMps * now.stepS
    this.stride = this.strideNow()
    const phaseBefore = this.phase
    if (this.speedMps > 0.04) this.phase += this.stride.rateHz * now.stepS
    if (this.way === this.seesaw) this.middleZ = this.laneZ + 0.012 * this.sway(now.nowS)
    const low = this.speedMps < 0.15 && this.onPlank[0] > 0.5 ? 0.94 : 0.985
    this.crouch += (low - this.crouch) * (now.stepS / 0.15)
    for (let paw = 0; paw < 4; paw++) this.stepPaw(paw, phaseBefore, now.nowS, accelerationMps2, wish.pawLimitM)
  }

  private stepPaw(paw: number, phaseBefore: number, nowS: number, accelerationMps2: number, limitM: number): void {
    const leg = this.paws[paw]!
    const { stride, frame, speedMps } = this
    const moving = speedMps > 0.04
    const swingS = Math.max(0.09, Math.min((1 - stride.duty) / stride.rateHz, 0.3 * Math.sqrt(frame.heightM / 0.5)))
    const progress = leg.progress(nowS)
    if (progress !== null) {
      if (progress < 0.65) leg.retarget(this.nextFoothold(paw, (1 - progress) * swingS, accelerationMps2, limitM))
      return
    }
    if (!leg.planted) return
    const hereM = this.way.alongOf(leg.planted)
    const behindM = this.neutralM(paw) - hereM
    const alone = !this.paws[paw ^ 1]!.planted && stride.gait <= 1.2
    if (alone && behindM < 0.6 * frame.hipUpM) return
    const due =
      moving &&
      fraction(phaseBefore - stride.landing[paw]!) < stride.duty &&
      fraction(this.phase - stride.landing[paw]!) >= stride.duty
    const stretched = moving && behindM > 0.5 * stride.duty * stride.lengthM + 0.07 * frame.heightM
    const uneasy = !moving && Math.abs(behindM) > 0.17 * frame.heightM
    if (!due && !stretched && !uneasy) return
    const next = this.nextFoothold(paw, swingS, accelerationMps2, limitM)
    if (Math.abs(this.way.alongOf(next) - hereM) < 0.04 * frame.heightM) return
    this.pawJitterZ[paw] = 0.011 * this.random.normal()
    const liftM = frame.heightM * (0.09 + 0.05 * Math.min(1.5, stride.gait)) * this.random.between(0.85, 1.2)
    leg.step(next, nowS, uneasy ? Math.max(0.16, 0.8 * swingS) : swingS, liftM)
  }

  /** Where a paw that has `leftS` to go should land: half a stance ahead of where its neutral place will be. */
  private nextFoothold(paw: number, leftS: number, accelerationMps2: number, limitM: number): Foothold {
    const slowing = Math.max(-this.speedMps / Math.max(leftS, 0.02), Math.min(0, accelerationMps2))
    const movedM = this.speedMps * leftS + 0.5 * slowing * leftS * leftS
    const thenMps = Math.max(0, this.speedMps + slowing * leftS)
    const halfStanceM = 0.5 * this.stride.duty * this.stride.lengthM * (thenMps / Math.max(0.05, this.speedMps))
    const wantedM = this.neutralM(paw) + movedM + Math.min(halfStanceM, 0.62 * this.frame.heightM)
    if (this.way !== this.seesaw) return this.foothold(wantedM, paw)
    return this.foothold(this.clearOfEnds(Math.min(wantedM, limitM)), paw)
  }

  /** Paws are set clearly on the plank or clearly beside its ends. */
  private clearOfEnds(alongM: number): number {
    const { lengthM } = this.board
    if (alongM > -0.07 && alongM < 0.05) return alongM < 0 ? -0.07 : 0.05
    if (alongM > lengthM - 0.04 && alongM < lengthM + 0.1)
      return alongM < lengthM + 0.02 ? lengthM - 0.04 : lengthM + 0.1
    return alongM
  }

  /** The trunk over the paws' way, with the bounce of the gait. */
  private standingTrunk(at: BoardPlace): Trunk {
    const { frame, stride } = this
    const roundM = 0.1 + 0.15 * frame.heightM
    const girdle = (alongM: number) => add(this.way.surface(at, alongM, roundM), [0, 0, this.middleAt(alongM)])
    const fore = girdle(this.alongM + frame.shoulderAheadM)
    const hind = girdle(this.alongM - frame.hipBehindM)
    const slope = subtract(fore, hind)
    const up = unit(mix([0, 1, 0], unit([-slope[1], slope[0], 0]), 0.4))
    const bounceM = frame.heightM * Math.min(1, this.speedMps / 0.6) * (0.008 + 0.016 * Math.min(1, stride.gait))
    const rockM = stride.gait > 1 ? 0.07 * frame.heightM * (stride.gait - 1) * Math.cos(2 * Math.PI * this.phase) : 0
    const beat = 4 * Math.PI * (this.phase - stride.duty / 2)
    const foreLag = Math.PI * Math.max(0, 1 - stride.gait)
    const foreUpM = frame.shoulderUpM * this.crouch - bounceM * Math.cos(beat + foreLag) + rockM
    const hindUpM = frame.hipUpM * this.crouch - bounceM * Math.cos(beat) - rockM
    return { shoulder: add(fore, scale(up, foreUpM)), hip: add(hind, scale(up, hindUpM)) }
  }

  /** After a change of way the difference from the pose before fades out instead of jumping. */
  private faded(trunk: Trunk, nowS: number): Trunk {
    if (!this.fading) return trunk
    const rest = 1 - smoothStep((nowS - this.fading.sinceS) / 0.22)
    if (rest === 0) this.fading = null
    else
      return {
        shoulder: add(trunk.shoulder, scale(this.fading.shoulder, rest)),
        hip: add(trunk.hip, scale(this.fading.hip, rest)),
      }
    return trunk
  }

  private goFlat(way: FlatWay, now: Surroundings): void {
    const before = this.trunk
    this.way = way
    const after = this.standingTrunk(now.at)
    this.fading = {
      shoulder: subtract(before.shoulder, after.shoulder),
      hip: subtract(before.hip, after.hip),
      sinceS: now.nowS,
    }
  }

  private wantsLeap(now: Surroundings): boolean {
    const { ending } = this.action
    if (this.way !== this.seesaw) return false
    if (ending.kind === 'fly-off') return (now.turnedRad * 180) / Math.PI > ending.afterTurnDeg
    if (ending.kind === 'leap-zone') return now.groundedS !== null && now.nowS > now.groundedS + ending.waitS
    return ending.kind === 'bail-off' && this.alongM >= ending.atM
  }

  private startLeap(now: Surroundings): Leap {
    const { ending } = this.action
    const asideM = this.board.widthM / 2 + 0.75 * this.frame.heightM + 0.1
    return new Leap(this.board, this.frame, this.paws, {
      nowS: now.nowS,
      alongM: this.alongM,
      speedMps: this.speedMps,
      middleZ: this.middleZ,
      landingZ: ending.kind === 'bail-off' ? ending.side * asideM : this.middleZ,
      overEndX: ending.kind === 'bail-off' ? null : this.seesaw.exitX,
      leaveMps: this.action.leaveMps,
    })
  }

  private stepLeap(leap: Leap, now: Surroundings): void {
    if (leap.phase === 'gathering') {
      this.alongM += this.speedMps * now.stepS
      this.crouch += (0.86 - this.crouch) * (now.stepS / 0.08)
      this.trunk = this.standingTrunk(now.at)
    }
    this.trunk = leap.step(now.stepS, now.nowS, now.at, this.trunk)
    if (leap.phase !== 'landed') return
    this.leap = null
    this.middleZ = leap.landingZ
    this.crouch = 0.98
    this.speedMps = leap.speedMps
    this.stride = this.strideNow()
    this.alongM = 0
    this.way = new FlatWay(0)
    this.phase = this.stride.duty
    this.goFlat(new FlatWay(centreOf(this.trunk)[0] - centreOf(this.standingTrunk(now.at))[0]), now)
  }

  private weighOnPlank(stepS: number): void {
    for (const girdle of [0, 1] as const) {
      const paws = [this.paws[2 * girdle]!, this.paws[2 * girdle + 1]!]
      const down = paws.flatMap((p) => p.planted ?? [])
      const airborne = paws.every((p) => p.state.kind === 'airborne')
      const carried = down.length > 0 ? down.filter((f) => f.on === 'plank').length / down.length : this.onPlank[girdle]
      this.onPlank[girdle] +=
        ((airborne ? 0 : carried) - this.onPlank[girdle]) * Math.min(1, stepS / (airborne ? 0.004 : 0.04))
    }
  }
}

const fraction = (x: number): number => x - Math.floor(x)

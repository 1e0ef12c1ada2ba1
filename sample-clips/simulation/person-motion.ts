import type { Random } from '../random.ts'
import type { BoardSpec, HandlerSpec } from '../scenario.ts'
import { add, type Vec3 } from '../world/vector.ts'
import type { BoardPlace } from './board-place.ts'
import { FlatWay } from './foothold.ts'
import { strideAt } from './gait.ts'
import { Paw } from './paw.ts'

/** How a person stands or walks at one instant, world metres. */
export interface PersonPose {
  readonly pelvis: Vec3
  /** +1 faces along +x, -1 along -x; between while turning. */
  readonly heading: number
  readonly feet: readonly [Vec3, Vec3]
  /** Strides done, for the swing of the arms. */
  readonly phase: number
  readonly speedMps: number
  /** Where the hands are held; null hangs and swings. Left, right. */
  readonly hands: readonly [Vec3 | null, Vec3 | null]
}

/** A handler on level ground who keeps a given distance ahead of the dog, feet planted between steps. */
export class HandlerMotion {
  private readonly spec: HandlerSpec
  private readonly board: BoardSpec
  private readonly way = new FlatWay(0)
  private readonly feet: readonly [Paw, Paw]
  private x: number
  private speedMps = 0
  private phase: number

  constructor(spec: HandlerSpec, board: BoardSpec, dogX: number, random: Random) {
    this.spec = spec
    this.board = board
    this.x = dogX + spec.leadM
    this.phase = random.unit()
    this.feet = [new Paw(this.way.foothold(this.x, this.footZ(0))), new Paw(this.way.foothold(this.x, this.footZ(1)))]
  }

  private footZ(foot: number): number {
    return this.spec.laneM + (foot === 0 ? -0.1 : 0.1)
  }

  step(stepS: number, nowS: number, dogX: number, dogMps: number): void {
    const behindM = dogX + this.spec.leadM - this.x
    const wish = Math.max(0, Math.min(6, dogMps + 1.6 * behindM))
    this.speedMps += Math.max(-5, Math.min(4, (wish - this.speedMps) / 0.15)) * stepS
    if (this.speedMps < 0.05 && wish < 0.15) this.speedMps = 0
    this.x += this.speedMps * stepS
    const legM = 0.5 * this.spec.person.heightM
    const stride = strideAt(this.speedMps, legM, false)
    const before = this.phase
    if (this.speedMps > 0.05) this.phase += stride.rateHz * stepS
    this.feet.forEach((foot, i) => {
      foot.settle(nowS)
      const swingS = Math.max(
        0.15,
        Math.min(0.42, (1 - stride.duty) / stride.rateHz, 0.55 / Math.max(0.5, this.speedMps)),
      )
      const left = 1 - (foot.progress(nowS) ?? 1)
      const ahead =
        this.x + this.speedMps * (foot.planted ? 1 : left) * swingS + Math.min(0.5, 0.5 * stride.duty * stride.lengthM)
      if (!foot.planted) {
        if (left > 0.35) foot.retarget(this.way.foothold(ahead, this.footZ(i)))
        return
      }
      const offset = i * 0.5
      const due = fraction(before - offset) < stride.duty && fraction(this.phase - offset) >= stride.duty
      const hereM = this.way.alongOf(foot.planted)
      const uneasy = this.speedMps < 0.3 && Math.abs(this.x - hereM) > 0.22
      const stretched = this.x - hereM > 0.55 * stride.duty * stride.lengthM + 0.12
      const otherReady = (this.feet[1 - i]!.progress(nowS) ?? 1) > 0.6
      if (otherReady && (stretched || uneasy || (this.speedMps > 0.05 && due))) {
        foot.step(
          this.way.foothold(uneasy && !due ? this.x + 0.05 : ahead, this.footZ(i)),
          nowS,
          swingS,
          0.07 + 0.05 * Math.min(2, this.speedMps),
        )
      }
    })
  }

  pose(at: BoardPlace, nowS: number, pointAt: Vec3): PersonPose {
    const hipM = 0.52 * this.spec.person.heightM
    const spread = Math.abs(this.footX(0) - this.footX(1))
    const pelvis: Vec3 = [this.x, hipM - 0.1 * spread * spread, this.spec.laneM]
    const none: Vec3 = [0, 0, 0]
    const feet = this.feet.map((f) => f.world(this.board, at, none, nowS)) as [Vec3, Vec3]
    const nearPlank = Math.abs(pointAt[0] - this.x) < 1.4
    const hand = add(pelvis, [0.42, 0.33, this.spec.laneM > 0 ? -0.25 : 0.25])
    const hands: [Vec3 | null, Vec3 | null] = !nearPlank
      ? [null, null]
      : this.spec.laneM > 0
        ? [hand, null]
        : [null, hand]
    return { pelvis, heading: 1, feet, phase: this.phase, speedMps: this.speedMps, hands }
  }

  private footX(foot: 0 | 1): number {
    const { state } = this.feet[foot]
    const at = state.kind === 'planted' ? state.at : state.kind === 'stepping' ? state.from : null
    return at ? this.way.alongOf(at) : this.x
  }
}

const fraction = (x: number): number => x - Math.floor(x)

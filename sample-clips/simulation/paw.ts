import { smoothStep } from '../random.ts'
import type { BoardSpec } from '../scenario.ts'
import { add, mix, type Vec3 } from '../world/vector.ts'
import { plankFromWorld, type BoardPlace } from './board-place.ts'
import { worldFromFoothold, type Foothold } from './foothold.ts'

/** How high a flying paw stays over the plank, at least. */
const CLEAR_M = 0.04

type PawState =
  | { readonly kind: 'planted'; readonly at: Foothold }
  | {
      readonly kind: 'stepping'
      readonly from: Foothold
      to: Foothold
      readonly sinceS: number
      readonly lastsS: number
      readonly liftM: number
    }
  | {
      readonly kind: 'airborne'
      readonly fromBody: Vec3
      readonly viaBody: Vec3
      readonly to: Foothold | null
      readonly sinceS: number
      readonly landsS: number
    }

/** One paw: exactly still on its foothold, stepping in an arc to the next, or carried through the air in a leap. */
export class Paw {
  state: PawState

  constructor(at: Foothold) {
    this.state = { kind: 'planted', at }
  }

  get planted(): Foothold | null {
    return this.state.kind === 'planted' ? this.state.at : null
  }

  /** Planted on the ground, or stepping from ground to ground. */
  get onGround(): boolean {
    const { state } = this
    if (state.kind === 'planted') return state.at.on === 'ground'
    return state.kind === 'stepping' && state.from.on === 'ground' && state.to.on === 'ground'
  }

  step(to: Foothold, nowS: number, lastsS: number, liftM: number): void {
    if (this.state.kind !== 'planted') return
    this.state = { kind: 'stepping', from: this.state.at, to, sinceS: nowS, lastsS, liftM }
  }

  /** Share of the swing done, or null when it does not step. */
  progress(nowS: number): number | null {
    return this.state.kind === 'stepping' ? Math.min(1, (nowS - this.state.sinceS) / this.state.lastsS) : null
  }

  retarget(to: Foothold): void {
    if (this.state.kind === 'stepping') this.state.to = to
  }

  /** Leaves the surface for a leap; places are relative to the paw's girdle. */
  takeOff(fromBody: Vec3, viaBody: Vec3, to: Foothold | null, nowS: number, landsS: number): void {
    this.state = { kind: 'airborne', fromBody, viaBody, to, sinceS: nowS, landsS }
  }

  /** Plants the paw when its swing or its leap is over. */
  settle(nowS: number): void {
    if (this.state.kind === 'stepping' && nowS >= this.state.sinceS + this.state.lastsS)
      this.state = { kind: 'planted', at: this.state.to }
    else if (this.state.kind === 'airborne' && this.state.to && nowS >= this.state.landsS)
      this.state = { kind: 'planted', at: this.state.to }
  }

  /** Middle of the sole in the world. */
  world(board: BoardSpec, at: BoardPlace, girdle: Vec3, nowS: number): Vec3 {
    const { state } = this
    if (state.kind === 'planted') return worldFromFoothold(board, at, state.at)
    if (state.kind === 'stepping') {
      const t = this.progress(nowS) ?? 1
      const along = t - Math.sin(2 * Math.PI * t) / (2 * Math.PI)
      const a = worldFromFoothold(board, at, state.from)
      const b = worldFromFoothold(board, at, state.to)
      const p = mix(a, b, along)
      // Highest a little before the middle; stays over both ends of a step up or down.
      const arc = Math.sin(Math.PI * t ** 0.85)
      const clear = Math.max(0, Math.max(a[1], b[1]) - p[1]) * Math.min(1, 5 * t * (1 - t))
      return [p[0], p[1] + state.liftM * arc + clear, p[2]]
    }
    const t = Math.min(1, Math.max(0, (nowS - state.sinceS) / (state.landsS - state.sinceS)))
    const toVia = smoothStep(t / 0.45)
    const carried = add(girdle, mix(state.fromBody, state.viaBody, toVia))
    if (!state.to) return carried
    const p = mix(carried, worldFromFoothold(board, at, state.to), smoothStep((t - 0.35) / 0.65))
    return t > 0.4 ? overPlank(board, at, p) : p
  }
}

/** A flying paw is drawn up rather than pushed through the plank. */
function overPlank(board: BoardSpec, at: BoardPlace, p: Vec3): Vec3 {
  const { alongM, aboveM } = plankFromWorld(board, at, p)
  const beside = alongM < 0 || alongM > board.lengthM + 0.03 || Math.abs(p[2]) > board.widthM / 2 + 0.03
  return beside || aboveM > CLEAR_M ? p : add(p, [0, (CLEAR_M - aboveM) / Math.cos(at.angleRad), 0])
}

import type { BoardSpec } from '../scenario.ts'
import { exitCornerHeightM, groundedAngleRad, type BoardPlace } from './board-place.ts'

/** A mass that stands on the plank at one instant: along from the entry end, and the weight factor of its own motion. */
export interface Load {
  readonly alongM: number
  readonly aboveM: number
  readonly massKg: number
  /** Weight felt over weight at rest: more than 1 while pushing off, less while sinking. */
  readonly factor: number
}

const GRAVITY_MPS2 = 9.80665

/**
 * The seesaw as a rigid body on an axle, with friction, two stops and optionally a bending exit half and yielding
 * ground. Integrated in small steps (semi-implicit Euler, velocity first).
 */
export class BoardMotion {
  readonly board: BoardSpec
  angleRad: number
  rateRadps = 0
  bendM = 0
  /** Time since the start of the last step at which the exit end met the ground in it; null if it did not. */
  metGroundAfterS: number | null = null
  private bendRateMps = 0
  private readonly restRad: number
  private readonly groundedRad: number

  constructor(board: BoardSpec) {
    this.board = board
    this.groundedRad = groundedAngleRad(board)
    this.restRad = -this.groundedRad
    this.angleRad = this.restRad
  }

  get place(): BoardPlace {
    return { angleRad: this.angleRad, bendM: this.bendM }
  }

  /** Whether the exit end is on the ground now. */
  get exitEndDown(): boolean {
    return exitCornerHeightM(this.board, this.place) <= 1e-4
  }

  /** One step of time; `held` keeps the board where it is (a hand that holds it). */
  step(stepS: number, loads: readonly Load[], held: boolean): void {
    this.metGroundAfterS = null
    if (held) return
    const heightBeforeM = exitCornerHeightM(this.board, this.place)
    const { board } = this
    const c = Math.cos(this.angleRad)
    const s = Math.sin(this.angleRad)
    let torque = -board.biasTorqueNm * c
    let inertia = board.inertiaKgM2
    let bendForce = 0
    for (const load of loads) {
      const d = load.alongM - board.lengthM / 2
      const n = board.axisBelowTopM + load.aboveM
      torque += load.massKg * GRAVITY_MPS2 * load.factor * (d * c + n * s)
      inertia += load.massKg * (d * d + n * n)
      const t = Math.min(1, Math.max(0, d / (board.lengthM / 2)))
      bendForce += load.massKg * GRAVITY_MPS2 * load.factor * ((t * t * (3 - t)) / 2)
    }
    torque -= board.viscousNms * this.rateRadps
    torque += this.groundTorque(c)
    const stuck = Math.abs(this.rateRadps) < 1e-5 && Math.abs(torque) <= board.coulombNm
    if (stuck) this.rateRadps = 0
    else {
      const friction = board.coulombNm * Math.sign(this.rateRadps || torque)
      const before = this.rateRadps
      this.rateRadps += (stepS * (torque - friction)) / inertia
      // Dry friction stops the board; it cannot turn it the other way.
      if (before !== 0 && Math.sign(this.rateRadps) !== Math.sign(before) && Math.abs(torque) <= board.coulombNm)
        this.rateRadps = 0
    }
    this.angleRad += stepS * this.rateRadps
    this.stepBend(stepS, bendForce)
    const heightAfterM = exitCornerHeightM(this.board, this.place)
    if (heightBeforeM > 0 && heightAfterM <= 0)
      this.metGroundAfterS = (stepS * heightBeforeM) / (heightBeforeM - heightAfterM)
    this.applyStops()
  }

  private stepBend(stepS: number, forceN: number): void {
    if (this.board.bendMPerN === 0) return
    const naturalRadps = 2 * Math.PI * 7
    const target = this.exitEndDown ? 0 : forceN * this.board.bendMPerN
    this.bendRateMps += stepS * (naturalRadps ** 2 * (target - this.bendM) - 2 * 0.18 * naturalRadps * this.bendRateMps)
    this.bendM += stepS * this.bendRateMps
  }

  /** Yielding ground pushes back with a spring and a damper, and never pulls. */
  private groundTorque(c: number): number {
    const { groundStiffnessNPerM: stiffness, lengthM } = this.board
    if (stiffness === undefined) return 0
    const depthM = -exitCornerHeightM(this.board, this.place)
    if (depthM <= 0) return 0
    const lever = (lengthM / 2) * c
    const push = stiffness * depthM + 0.04 * stiffness * this.rateRadps * lever
    return -Math.max(0, push) * lever
  }

  private applyStops(): void {
    const { restitution, lengthM, groundStiffnessNPerM } = this.board
    if (this.angleRad < this.restRad) this.bounceAt(this.restRad, restitution)
    if (groundStiffnessNPerM !== undefined) return
    // A bent plank touches earlier: the stop lies where its lower corner meets the ground.
    const stop = this.groundedRad - this.bendM / (lengthM / 2)
    if (this.angleRad > stop) this.bounceAt(stop, restitution)
  }

  private bounceAt(stopRad: number, restitution: number): void {
    this.angleRad = stopRad
    this.rateRadps *= -restitution
    if (Math.abs(this.rateRadps) < 0.012) this.rateRadps = 0
  }
}

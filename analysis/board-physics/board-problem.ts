import type { LeastSquaresProblem } from '../numeric/least-squares.ts'
import { BIAS_NM, COULOMB_SD_NM, OVER_AXIS_M, VISCOUS_SD_NMS, type BoardPrior } from './board-prior.ts'
import type { DropCurve, FreeSwing } from './drop-curve.ts'
import { drivingTorqueNm, type BoardLaw, type Load } from './seesaw-law.ts'
import { swingFrom } from './swing.ts'

/** Usual sizes of the parameters, for the search's steps (ours; results do not depend on them): N m, N m, N m s, m, s. */
const TYPICAL = { holdingNm: 5, coulombNm: 1, viscousNms: 1, overAxisM: 0.05, beginS: 0.1 } as const
/** A swing is followed this long at least, s (ours). */
const LEAST_SWING_S = 0.1
/** Without any sign of the hand: it began so long before it has turned by this, s and rad (1.7 deg; an estimate). */
const BEGAN_BEFORE_S = 0.3
const SURELY_MOVING_RAD = 0.03

/**
 * Parameters that all drops share: inertia, bias + dry friction (what a falling board has to overcome, which a drop
 * tells better than either), dry friction, viscous friction, height of the weight over the axis. After them comes the
 * begin of each swing, s.
 */
export const SHARED = 5

/** A swing with how much each of its frames counts. */
export interface Weighed {
  readonly swing: FreeSwing
  /** 1 sd of a frame's angle, rad. */
  readonly noiseRad: number
  /** 1 for frames that count. */
  readonly keep: Uint8Array
}

/** A swing's angles may all be off by this, 1 sd, rad (0.5 deg), and its turn by this share (0.4 %), from calibration (an estimate). */
const SHIFT_SD_RAD = 0.009
const SCALE_SD = 0.004
/** A hand is off about then, and no surer than this, 1 sd, s: fingers let go one after the other (an estimate). */
const LETTING_GO_S = 0.03
/** Without any sign of the hand: the guess from the motion may be off by as much, s (an estimate). */
const BEGIN_GUESS_S = 0.5
/** A board that stayed at rest may have been held by this much more than friction, N m: dirt, a rounded edge (an estimate). */
const HELD_SLACK_NM = 0.05

/** A lath of 6 kg and 1 m turns as easily as this, kg m² (M L² / 12); no seesaw does. */
const LEAST_INERTIA_KGM2 = 0.5

/** Residuals of the board itself, and of each swing beside its frames: shift, scale, begin. */
const OTHERS = 5
const PER_SWING = 3

/**
 * The board that is told by parameters. Frictions below 0 stand for the same ones above: so search and draws meet no wall
 * at 0.
 *
 * @param at parameters as `SHARED` tells them
 * @returns the board's law
 */
export function lawAt(at: ArrayLike<number>): BoardLaw {
  const coulombNm = Math.abs(at[2]!)
  return { inertiaKgM2: at[0]!, biasTorqueNm: at[1]! - coulombNm, coulombNm, viscousNms: Math.abs(at[3]!) }
}

/** How well a board's parameters agree with its drops and with what boards are like, as a sum of squares. */
export class BoardProblem implements LeastSquaresProblem {
  readonly residualCount: number
  readonly typical: readonly number[]
  readonly #swings: readonly Weighed[]
  readonly #still: readonly DropCurve[]
  readonly #halfM: number
  readonly #restRad: number
  readonly #prior: BoardPrior
  readonly #begins: readonly { readonly value: number; readonly sd: number }[]
  readonly #residuals: Float64Array

  constructor(
    swings: readonly Weighed[],
    still: readonly DropCurve[],
    lengthM: number,
    restRad: number,
    prior: BoardPrior,
  ) {
    this.#swings = swings
    this.#still = still
    this.#halfM = lengthM / 2
    this.#restRad = restRad
    this.#prior = prior
    this.#begins = swings.map(({ swing }) => expectedBegin(swing))
    this.typical = [
      prior.inertiaKgM2,
      TYPICAL.holdingNm,
      TYPICAL.coulombNm,
      TYPICAL.viscousNms,
      TYPICAL.overAxisM,
      ...swings.map(() => TYPICAL.beginS),
    ]
    this.residualCount = OTHERS + swings.reduce((sum, { swing }) => sum + swing.timesS.length + PER_SWING, 0)
    this.#residuals = new Float64Array(this.residualCount)
  }

  residuals(at: Float64Array, into: Float64Array): void {
    const law = lawAt(at)
    if (!this.#agreesWithStill(law, at[4]!)) {
      into.fill(NaN)
      return
    }
    into[0] = Math.log(law.inertiaKgM2 / this.#prior.inertiaKgM2) / this.#prior.logInertiaSd
    into[1] = (law.biasTorqueNm - BIAS_NM.middle) / BIAS_NM.sd
    into[2] = at[2]! / COULOMB_SD_NM
    into[3] = at[3]! / VISCOUS_SD_NMS
    into[4] = (at[4]! - OVER_AXIS_M.middle) / OVER_AXIS_M.sd
    let n = OTHERS
    for (let k = 0; k < this.#swings.length; k++) {
      const turns = this.#turns(law, at, k)
      // A board that would not have moved is impossible, and a search must not be lost among such.
      if (turns === null) {
        into.fill(NaN)
        return
      }
      n = this.#swingResiduals(turns, at, k, into, n)
    }
  }

  /** Whether a board agrees with what moved and what did not. */
  isPossible(at: Float64Array): boolean {
    this.residuals(at, this.#residuals)
    return !Number.isNaN(this.#residuals[0]!)
  }

  /** Logarithm of the posterior density, but for a constant. */
  logDensity(at: Float64Array): number {
    this.residuals(at, this.#residuals)
    let sum = 0
    for (const residual of this.#residuals) sum += residual * residual
    // The prior is even in the logarithm of the inertia, the walkers move in the inertia itself.
    return Number.isFinite(sum) ? -sum / 2 - Math.log(at[0]!) : -Infinity
  }

  /** How far each frame of a swing is off the board told by `at`, rad, after shift and scale. */
  misfitRad(at: Float64Array, k: number): Float64Array {
    const { swing } = this.#swings[k]!
    const turns = this.#turns(lawAt(at), at, k) ?? new Float64Array(swing.timesS.length)
    const { shiftRad, scale } = this.#calibrated(turns, k)
    return turns.map((turn, n) => swing.anglesRad[n]! - modelAngle(swing, turn, shiftRad, scale))
  }

  #agreesWithStill(law: BoardLaw, overAxisM: number): boolean {
    if (!(law.inertiaKgM2 > LEAST_INERTIA_KGM2 && law.biasTorqueNm > 0)) return false
    return this.#still.every(({ massKg, massAtM }) => {
      const load = { massKg, fromPivotM: massAtM - this.#halfM, overAxisM }
      return drivingTorqueNm(law, load, this.#restRad) < law.coulombNm + HELD_SLACK_NM
    })
  }

  /** The turn at each frame, rad; null for a board that stays at rest. */
  #turns(law: BoardLaw, at: Float64Array, k: number): Float64Array | null {
    const { swing } = this.#swings[k]!
    const load: Load = { massKg: swing.massKg, fromPivotM: swing.massAtM - this.#halfM, overAxisM: at[4]! }
    const beginS = at[SHARED + k]!
    const lastS = swing.timesS[swing.timesS.length - 1]!
    const motion = swingFrom(law, load, swing.restRad, swing.towards, Math.max(lastS - beginS, LEAST_SWING_S))
    return motion.moves ? swing.timesS.map((timeS) => motion.turnRad(timeS - beginS)) : null
  }

  #swingResiduals(turns: Float64Array, at: Float64Array, k: number, into: Float64Array, from: number): number {
    const { swing, noiseRad, keep } = this.#swings[k]!
    const { shiftRad, scale } = this.#calibrated(turns, k)
    let n = from
    for (let i = 0; i < turns.length; i++) {
      const off = swing.anglesRad[i]! - modelAngle(swing, turns[i]!, shiftRad, scale)
      into[n++] = keep[i] === 1 ? off / noiseRad : 0
    }
    into[n++] = shiftRad / SHIFT_SD_RAD
    into[n++] = scale / SCALE_SD
    const begin = this.#begins[k]!
    into[n++] = (at[SHARED + k]! - begin.value) / begin.sd
    return n
  }

  /** The likeliest shift and scale of a swing's angles for a board, by linear least squares with their priors. */
  #calibrated(turns: Float64Array, k: number): { readonly shiftRad: number; readonly scale: number } {
    const { swing, noiseRad, keep } = this.#swings[k]!
    const perVariance = 1 / (noiseRad * noiseRad)
    let [a, b, c] = [1 / SHIFT_SD_RAD ** 2, 0, 1 / SCALE_SD ** 2]
    let [p, q] = [0, 0]
    for (let i = 0; i < turns.length; i++) {
      if (keep[i] === 0) continue
      const turn = swing.towards * turns[i]!
      const off = swing.anglesRad[i]! - swing.restRad - turn
      a += perVariance
      b += perVariance * turn
      c += perVariance * turn * turn
      p += perVariance * off
      q += perVariance * off * turn
    }
    const determinant = a * c - b * b
    return { shiftRad: (p * c - q * b) / determinant, scale: (a * q - b * p) / determinant }
  }
}

function modelAngle({ restRad, towards }: FreeSwing, turn: number, shiftRad: number, scale: number): number {
  return restRad + shiftRad + (1 + scale) * towards * turn
}

function expectedBegin({ releasedS, timesS, anglesRad, restRad, towards }: FreeSwing): {
  readonly value: number
  readonly sd: number
} {
  if (releasedS !== null) return { value: releasedS.value, sd: Math.hypot(releasedS.sd, LETTING_GO_S) }
  const moving = anglesRad.findIndex((angle) => towards * (angle - restRad) > SURELY_MOVING_RAD)
  return { value: timesS[Math.max(0, moving)]! - BEGAN_BEFORE_S, sd: BEGIN_GUESS_S }
}

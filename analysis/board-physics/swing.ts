import { drivingTorqueNm, GRAVITY_MPS2, inertiaWithKgM2, type BoardLaw, type Load } from './seesaw-law.ts'

/** How a free board turns from rest: the turn at a time since it was let go. */
export interface Swing {
  /** True when weight and bias overcome the friction at rest. */
  readonly moves: boolean
  /** How far it has turned from where it started, towards where it is driven, rad, >= 0. */
  turnRad(sinceS: number): number
}

/** One step of the solution, s: the acceleration changes slowly, so that RK4 is right to 1e-7 rad at this step. */
const STEP_S = 0.04

/**
 * A board that is let go at rest, by Runge and Kutta's fourth-order method, with cubic Hermite curves between the steps.
 *
 * @param law the board
 * @param load what lies on it
 * @param restRad board angle at rest
 * @param towards 1 when it falls with the exit end down, -1 when it returns
 * @param untilS how long it is followed, s; later it is told as it was then
 * @returns the swing; it does not know the ground
 */
export function swingFrom(law: BoardLaw, load: Load, restRad: number, towards: 1 | -1, untilS: number): Swing {
  if (towards * drivingTorqueNm(law, load, restRad) <= law.coulombNm) return { moves: false, turnRad: () => 0 }
  const count = Math.max(1, Math.ceil(untilS / STEP_S))
  const turns = new Float64Array(count + 1)
  const rates = new Float64Array(count + 1)
  const acceleration = accelerationOf(law, load, restRad, towards)
  let turn = 0
  let rate = 0
  for (let k = 1; k <= count; k++) {
    const a1 = acceleration(turn, rate)
    const r2 = rate + (a1 * STEP_S) / 2
    const a2 = acceleration(turn + (rate * STEP_S) / 2, r2)
    const r3 = rate + (a2 * STEP_S) / 2
    const a3 = acceleration(turn + (r2 * STEP_S) / 2, r3)
    const r4 = rate + a3 * STEP_S
    const a4 = acceleration(turn + r3 * STEP_S, r4)
    turn += (STEP_S / 6) * (rate + 2 * r2 + 2 * r3 + r4)
    rate += (STEP_S / 6) * (a1 + 2 * a2 + 2 * a3 + a4)
    // Friction stops a board; it cannot turn it back.
    if (rate < 0) {
      turns.fill(turns[k - 1]!, k)
      break
    }
    turns[k] = turn
    rates[k] = rate
  }
  return {
    moves: true,
    turnRad(sinceS) {
      if (sinceS <= 0) return 0
      const place = Math.min(sinceS / STEP_S, count)
      const k = Math.min(Math.floor(place), count - 1)
      return hermite(turns[k]!, rates[k]! * STEP_S, turns[k + 1]!, rates[k + 1]! * STEP_S, place - k)
    },
  }
}

/** Turning acceleration towards where the board goes, rad/s², at a turn and a rate. */
function accelerationOf(
  law: BoardLaw,
  load: Load,
  restRad: number,
  towards: 1 | -1,
): (turn: number, rate: number) => number {
  const inertia = inertiaWithKgM2(law, load)
  const weightN = load.massKg * GRAVITY_MPS2
  const level = (towards * (weightN * load.fromPivotM - law.biasTorqueNm)) / inertia
  const leaning = (towards * weightN * load.overAxisM) / inertia
  const dry = law.coulombNm / inertia
  const perRate = law.viscousNms / inertia
  return (turn, rate) => {
    const angle = restRad + towards * turn
    return level * Math.cos(angle) + leaning * Math.sin(angle) - dry - perRate * rate
  }
}

function hermite(from: number, slopeFrom: number, to: number, slopeTo: number, t: number): number {
  const rise = to - from
  return from + t * (slopeFrom + t * (3 * rise - 2 * slopeFrom - slopeTo + t * (slopeFrom + slopeTo - 2 * rise)))
}

/** When a swing ends on the ground. */
export interface Landing {
  /** s since it was let go. */
  readonly afterS: number
  /** Turning speed then, rad/s. */
  readonly rateRadps: number
}

/** Longer than this no board takes, s (ours: rule books allow 3 s); looked at first, s: most have landed by then. */
const LONGEST_S = 40
const LOOKED_AT_FIRST_S = 2.5
/** Halvings of the way to the landing: to 1e-11 s. */
const HALVINGS = 40
/** A turning speed is taken over this long to either side, s. */
const RATE_SPAN_S = 0.001

/**
 * How long a board takes from rest to a given turn.
 *
 * @param law the board
 * @param load what lies on it
 * @param restRad board angle at rest
 * @param swingRad how far it turns until it lands, rad, > 0
 * @param towards 1 when it falls with the exit end down, -1 when it returns
 * @returns when and how fast it lands; null when it does not move, or stops on the way
 */
export function landingOf(
  law: BoardLaw,
  load: Load,
  restRad: number,
  swingRad: number,
  towards: 1 | -1,
): Landing | null {
  for (let untilS = LOOKED_AT_FIRST_S; untilS <= LONGEST_S; untilS *= 2) {
    const swing = swingFrom(law, load, restRad, towards, untilS)
    if (!swing.moves) return null
    if (swing.turnRad(untilS) < swingRad) continue
    let early = 0
    let late = untilS
    for (let round = 0; round < HALVINGS; round++) {
      const middle = (early + late) / 2
      if (swing.turnRad(middle) < swingRad) early = middle
      else late = middle
    }
    const afterS = (early + late) / 2
    const rateRadps = (swing.turnRad(afterS + RATE_SPAN_S) - swing.turnRad(afterS - RATE_SPAN_S)) / (2 * RATE_SPAN_S)
    return { afterS, rateRadps }
  }
  return null
}

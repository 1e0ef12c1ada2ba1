import { STEP_S, type WeighedRide } from '../../analysis/board-physics/weighed-ride.ts'
import type { Random } from '../../analysis/numeric/random.ts'
import type { TrueBoard } from './simulated-board.ts'

const G = 9.80665
const TIME_STEP_S = 0.001

/**
 * Rides of one dog on a board of known physics. The dog presses on the plank as legged animals do and the program does
 * not know: harder and softer with every stride, ahead of its centre while it brakes (height of the centre times braking
 * over g), and its legs take up part of the plank's fall. Its own integrator shares nothing with the program.
 *
 * @param count how many rides; those in which the board does not come down are left out
 */
export function riddenBoard(truth: TrueBoard, count: number, random: Random): WeighedRide[] {
  const between = (from: number, to: number) => from + (to - from) * random.uniform()
  const { lengthM } = truth.board
  const massKg = between(5, 28)
  const dog = {
    massKg,
    weighedKg: massKg * (1 + 0.02 * random.normal()),
    centreHighM: between(0.22, 0.45),
    brakesMps2: between(1.5, 5),
    stopsM: lengthM - between(0.3, 0.6),
    speedMps: between(1.2, 3.2),
    strideShare: between(0.15, 0.6),
    strideHz: between(2.2, 3.5),
    goesAlong: between(0.75, 1),
    seenAheadM: 0.03 * random.normal(),
  }
  return Array.from({ length: count }, () => oneRide(truth, dog, random)).filter((ride) => ride !== null)
}

interface TrueDog {
  readonly massKg: number
  readonly weighedKg: number
  readonly centreHighM: number
  readonly brakesMps2: number
  readonly stopsM: number
  readonly speedMps: number
  readonly strideShare: number
  readonly strideHz: number
  readonly goesAlong: number
  readonly seenAheadM: number
}

function oneRide(truth: TrueBoard, dog: TrueDog, random: Random): WeighedRide | null {
  const { lengthM } = truth.board
  const speed = dog.speedMps * (1 + 0.08 * random.normal())
  const brakes = dog.brakesMps2 * Math.max(0.3, 1 + 0.15 * random.normal())
  const stopsM = dog.stopsM + 0.05 * random.normal()
  const phase = 2 * Math.PI * random.uniform()
  const brakingM = (speed * speed) / 2 / brakes
  const [brakesS, standsS] = [(stopsM - brakingM) / speed, (stopsM - brakingM) / speed + speed / brakes]
  const bodyM = (t: number) =>
    t < brakesS
      ? speed * t
      : t < standsS
        ? stopsM - brakingM + speed * (t - brakesS) - (brakes * (t - brakesS) ** 2) / 2
        : stopsM
  const speedAt = (t: number) => (t < brakesS ? speed : Math.max(0, speed - brakes * (t - brakesS)))
  const tipRad = truth.restRad + 0.01 / ((lengthM / 2) * Math.cos(truth.restRad))
  let [angle, rate, tipS, tipRate] = [truth.restRad, 0, NaN, 0]
  for (let t = 0; t < 8; t += TIME_STEP_S) {
    const aheadM = t > brakesS && t < standsS ? (dog.centreHighM * brakes) / G : 0
    const pressM = Math.min(lengthM, bodyM(t) + aheadM) - lengthM / 2
    const stride =
      1 + dog.strideShare * Math.min(1, speedAt(t) / 1.5) * Math.sin(2 * Math.PI * dog.strideHz * t + phase)
    const x = bodyM(t) - lengthM / 2
    const alongKg = dog.goesAlong * dog.massKg
    const driving =
      (dog.massKg * G * stride * pressM - truth.biasTorqueNm) * Math.cos(angle) -
      truth.viscousNms * rate -
      2 * alongKg * x * speedAt(t) * rate
    const inertia = truth.inertiaKgM2 + alongKg * x * x
    if (rate > 0 || driving > truth.coulombNm) rate += (TIME_STEP_S * (driving - truth.coulombNm)) / inertia
    if (rate < 0) rate = 0
    angle += TIME_STEP_S * rate
    if (Number.isNaN(tipS) && angle >= tipRad) [tipS, tipRate] = [t, rate]
    if (angle < truth.groundRad) continue
    const off = dog.seenAheadM + 0.03 * random.normal()
    return {
      dogId: 'dog',
      massKg: dog.weighedKg,
      fallS: t - tipS + 0.006 * random.normal(),
      tipRateRadps: tipRate * (1 + 0.1 * random.normal()),
      restRad: truth.restRad,
      groundRad: truth.groundRad,
      bodyFromPivotM: Array.from(
        { length: Math.ceil((t - tipS + 0.6) / STEP_S) },
        (_, k) => bodyM(tipS + k * STEP_S) - lengthM / 2 + off,
      ),
    }
  }
  return null
}

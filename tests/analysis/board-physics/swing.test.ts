import { describe, expect, test } from 'vitest'
import {
  inertiaWithKgM2,
  uniformPlankInertiaKgM2,
  withMass,
  type BoardLaw,
} from '../../../analysis/board-physics/seesaw-law.ts'
import { landingOf, swingFrom } from '../../../analysis/board-physics/swing.ts'
import { seededRandom } from '../../../analysis/numeric/random.ts'
import { randomBoard, trueFallS, withFastened } from '../../simulated-boards/simulated-board.ts'

const G = 9.80665
const free: BoardLaw = { inertiaKgM2: 13.4, biasTorqueNm: 3, coulombNm: 0, viscousNms: 0 }
const load = { massKg: 1, fromPivotM: 1.373, overAxisM: 0.06 }
const restRad = -0.316
const swingRad = 0.632

describe('a board that is let go', () => {
  test('has at the landing the energy that weight and bias gave it (conservation of energy)', () => {
    const { rateRadps } = landingOf(free, load, restRad, swingRad, 1)!
    const endRad = restRad + swingRad
    const level = (G * load.massKg * load.fromPivotM - free.biasTorqueNm) * (Math.sin(endRad) - Math.sin(restRad))
    const leaning = G * load.massKg * load.overAxisM * (Math.cos(restRad) - Math.cos(endRad))
    expect((inertiaWithKgM2(free, load) * rateRadps ** 2) / 2).toBeCloseTo(level + leaning, 2)
  })

  test('turns as half the acceleration times the time squared at first (Taylor)', () => {
    const law = { ...free, coulombNm: 0.7, viscousNms: 2 }
    const torque = (G * 1.373 - 3) * Math.cos(restRad) + G * 0.06 * Math.sin(restRad) - 0.7
    const half = torque / inertiaWithKgM2(law, load) / 2
    const turn = swingFrom(law, load, restRad, 1, 1).turnRad(0.03)
    expect(turn / (half * 0.03 ** 2)).toBeCloseTo(1, 2)
  })

  test('under a stiff viscous axle creeps at torque over viscosity (balance of both)', () => {
    const law = { ...free, viscousNms: 400 }
    const swing = swingFrom(law, { ...load, overAxisM: 0 }, restRad, 1, 12)
    const angle = restRad + swing.turnRad(10)
    const rate = (swing.turnRad(10.05) - swing.turnRad(9.95)) / 0.1
    expect(rate).toBeCloseTo(((G * 1.373 - 3) * Math.cos(angle)) / 400, 4)
  })

  test('stays when friction holds it, and an empty one comes back by its bias', () => {
    expect(landingOf({ ...free, coulombNm: 11 }, load, restRad, swingRad, 1)).toBeNull()
    expect(landingOf(free, { massKg: 0, fromPivotM: 0, overAxisM: 0 }, -restRad, swingRad, -1)!.afterS).toBeGreaterThan(
      2,
    )
  })

  test('of 12 kg, balanced and without friction, falls in about 1.3 s under 1 kg (arithmetic of the trade facts)', () => {
    const law = { inertiaKgM2: uniformPlankInertiaKgM2(12, 3.66, 0.04), biasTorqueNm: 0, coulombNm: 0, viscousNms: 0 }
    const { afterS } = landingOf(law, { massKg: 1, fromPivotM: 1.373, overAxisM: 0 }, -0.316, 0.632, 1)!
    expect(afterS).toBeGreaterThan(1.2)
    expect(afterS).toBeLessThan(1.4)
  })

  test('falls as a second integrator says (Euler, half a millisecond), with and without a mass fastened', () => {
    const random = seededRandom(3)
    for (let k = 0; k < 10; k++) {
      const truth = randomBoard(random)
      const atM = truth.board.lengthM - truth.board.contactM / 2
      const law: BoardLaw = truth
      const [massKg, fastenedAtM] = [0.3, 0.6]
      const changed = withMass(law, massKg, fastenedAtM - truth.board.lengthM / 2)
      for (const [one, other] of [
        [law, truth],
        [changed, withFastened(truth, massKg, fastenedAtM)],
      ] as const) {
        const weight = { massKg: 2.5, fromPivotM: atM - truth.board.lengthM / 2, overAxisM: 0 }
        const landing = landingOf(one, weight, truth.restRad, truth.groundRad - truth.restRad, 1)
        expect(landing?.afterS ?? Infinity).toBeCloseTo(trueFallS(other, 2.5, atM), 2)
      }
    }
  })
})

import { describe, expect, test } from 'vitest'
import { fitBoard, type BoardFit } from '../../../analysis/board-physics/board-fit.ts'
import { dropCurve } from '../../../analysis/board-physics/drop-curve.ts'
import { physicsOf } from '../../../analysis/board-physics/physics-of.ts'
import { predictFall, weightTest } from '../../../analysis/board-physics/weight-test.ts'
import type { Estimate } from '../../../analysis/estimate.ts'
import { seededRandom } from '../../../analysis/numeric/random.ts'
import { ruleSetOf } from '../../../analysis/rules/rule-sets.ts'
import { filmedDrop, trueFallS, type TrueBoard } from '../../simulated-boards/simulated-board.ts'

/** A board that the simulation knows (its own integrator) and the fit does not. */
const truth: TrueBoard = {
  board: { lengthM: 3.66, widthM: 0.3, pivotHeightM: 0.61, contactM: 0.914 },
  plankKg: 13.4,
  inertiaKgM2: 15,
  biasTorqueNm: 8.4,
  coulombNm: 0.6,
  viscousNms: 3,
  restRad: -0.3166,
  groundRad: 0.3166,
}
const atM = 3.203
const filming = { rateHz: 25, noiseDeg: 0.06, eventSdS: 0.02 }
const length = { settle: 100, keep: 120 }

function curvesOf(masses: readonly number[], board = truth) {
  const random = seededRandom(8)
  return masses.map((massKg) => {
    const drop = filmedDrop(board, massKg, atM, filming, random)
    const { events, frames, moved } = drop
    const timed = { fallFromPlacedS: null, fallFromReleasedS: null }
    return dropCurve({ massKg, massAtM: atM, ...events, ...timed, moved, ...frames }, board.board.lengthM)
  })
}

function holds(estimate: Estimate, value: number): boolean {
  return estimate.kind === 'measured' && estimate.ci95[0] <= value && value <= estimate.ci95[1]
}

function widthOf(estimate: Estimate): number {
  return estimate.kind === 'measured' ? estimate.ci95[1] - estimate.ci95[0] : NaN
}

const verdictOf = (fit: BoardFit, masses: readonly number[], board = truth) => {
  const curves = curvesOf(masses, board)
  return predictFall(fit, weightTest(ruleSetOf('uk')!.drop!.says, board.board, curves), board.board, curves)
}

describe('drops of one board', () => {
  test('from one weight alone hold the truth of a light board, which falls faster than a usual one could', () => {
    const light = { ...truth, plankKg: 7.6, inertiaKgM2: 8.2, biasTorqueNm: 2.3, coulombNm: 0.87, viscousNms: 0.4 }
    const physics = physicsOf(fitBoard(curvesOf([1], light), light.board, null, length))
    expect(holds(physics.inertiaKgM2, light.inertiaKgM2)).toBe(true)
    expect(holds(physics.biasTorqueNm, light.biasTorqueNm)).toBe(true)
    expect(holds(physics.coulombNm, light.coulombNm)).toBe(true)
    expect(holds(physics.viscousNms, light.viscousNms)).toBe(true)
    expect(widthOf(physics.biasTorqueNm)).toBeGreaterThan(2)
  })

  test('with two weights settle inertia and what the weight overcomes; each interval holds the truth', () => {
    const fit = fitBoard(curvesOf([1, 2]), truth.board, null, length)
    const physics = physicsOf(fit)
    expect(holds(physics.inertiaKgM2, truth.inertiaKgM2)).toBe(true)
    expect(holds(physics.biasTorqueNm, truth.biasTorqueNm)).toBe(true)
    expect(holds(physics.coulombNm, truth.coulombNm)).toBe(true)
    expect(holds(physics.viscousNms, truth.viscousNms)).toBe(true)
    expect(widthOf(physics.inertiaKgM2)).toBeLessThan(2)
    expect(fit.settled).toBe('board')
  })

  test('with one weight fix ratios only, and say so by their width; the weighed plank settles it', () => {
    const alone = physicsOf(fitBoard(curvesOf([1]), truth.board, null, length))
    const weighed = physicsOf(fitBoard(curvesOf([1]), truth.board, truth.plankKg, length))
    expect(holds(alone.inertiaKgM2, truth.inertiaKgM2)).toBe(true)
    expect(widthOf(alone.inertiaKgM2)).toBeGreaterThan(10)
    expect(holds(weighed.inertiaKgM2, truth.inertiaKgM2)).toBe(true)
    expect(widthOf(weighed.inertiaKgM2)).toBeLessThan(4)
  })

  test('tell when the hand was off better than the picture did', () => {
    const curves = curvesOf([1, 2])
    const fit = fitBoard(curves, truth.board, null, length)
    for (const begin of fit.begins) expect(begin.sd).toBeLessThan(0.008)
  })

  test('give the fall of the rule set, with an interval that holds it', () => {
    const { fallS, verdict } = verdictOf(fitBoard(curvesOf([1, 2]), truth.board, null, length), [1, 2])
    expect(holds(fallS, 0.4 + trueFallS(truth, 1, atM))).toBe(true)
    expect(verdict).toBe('within')
  })

  test('in which nothing moves tell a lower bound of the bias only', () => {
    const stiff = { ...truth, biasTorqueNm: 15, coulombNm: 1 }
    const fit = fitBoard(curvesOf([1], stiff), stiff.board, null, length)
    const physics = physicsOf(fit)
    expect(physics.biasTorqueNm.kind).toBe('atLeast')
    expect(physics.inertiaKgM2).toMatchObject({ kind: 'withheld', reason: 'never-tipped' })
    expect(verdictOf(fit, [1], stiff)).toMatchObject({ verdict: 'never-moves', fallS: { kind: 'withheld' } })
  })

  test('that contradict one another are fitted by those that moved', () => {
    const [moved] = curvesOf([1])
    const [still] = curvesOf([1], { ...truth, biasTorqueNm: 15 })
    const fit = fitBoard([moved!, { ...still!, massKg: 2 }], truth.board, null, length)
    expect(fit.settled).toBe('ratios')
  })

  test('without any frames give no draws', () => {
    const none = { massKg: 1, massAtM: atM, moved: null, placed: null, released: null, grounded: null }
    const timed = { fallFromPlacedS: null, fallFromReleasedS: null, ptsS: [], boardAngleDeg: [] }
    const curve = dropCurve({ ...none, ...timed }, 3.66)
    expect(fitBoard([curve], truth.board, null).draws).toEqual([])
    expect(curve.moved).toBeNull()
  })
})

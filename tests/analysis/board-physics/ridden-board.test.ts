import { describe, expect, test } from 'vitest'
import { fitBoard, type BoardFit } from '../../../analysis/board-physics/board-fit.ts'
import { dropCurve } from '../../../analysis/board-physics/drop-curve.ts'
import { boardFeel } from '../../../analysis/board-physics/feel.ts'
import { withRides } from '../../../analysis/board-physics/ridden-board.ts'
import { weighedRide } from '../../../analysis/board-physics/weighed-ride.ts'
import { measured } from '../../../analysis/estimate.ts'
import { seededRandom } from '../../../analysis/numeric/random.ts'
import { median } from '../../../analysis/numeric/robust.ts'
import { filmedDrop, randomBoard, trueFallS, type TrueBoard } from '../../simulated-boards/simulated-board.ts'
import { riddenBoard } from '../../simulated-boards/simulated-ride.ts'

function feelOf(fit: BoardFit, truth: TrueBoard) {
  const { feelS } = boardFeel(fit, truth.board, { drops: 0, rides: 0 })
  if (feelS.kind !== 'measured') return null
  const trueS = trueFallS(truth, 10, truth.board.lengthM - truth.board.contactM / 2)
  return { holds: feelS.ci95[0] <= trueS && trueS <= feelS.ci95[1], width: (feelS.ci95[1] - feelS.ci95[0]) / trueS }
}

/** Boards that no number in the program was chosen on. */
const boards = (count: number, seed: number) =>
  Array.from({ length: count }, (_, k) => {
    const random = seededRandom(seed + k)
    return { truth: randomBoard(random), random }
  })

describe('rides of weighed dogs, simulated with what the program does not know of them', () => {
  test.each([
    [1, 40],
    [6, 18],
  ])('%i of them, without any drop, tell the feel to an interval that holds it', (count, ofBoards) => {
    const feels = boards(ofBoards, 9100).flatMap(({ truth, random }) => {
      const rides = riddenBoard(truth, count, random)
      return rides.length === 0
        ? []
        : (feelOf(withRides(fitBoard([], truth.board, null), rides, truth.board), truth) ?? [])
    })
    expect(feels.length).toBeGreaterThan(0.85 * ofBoards)
    // 95 of 100 expected; fewer than 33 of 36, or 15 of 17, happen by chance in one run of twenty.
    expect(feels.filter(({ holds }) => holds).length / feels.length).toBeGreaterThan(0.87)
    expect(median(feels.map(({ width }) => width))).toBeLessThan(count === 1 ? 0.36 : 0.3)
  })

  test('sharpen what one drop tells', () => {
    const pairs = boards(8, 9300).flatMap(({ truth, random }) => {
      const atM = truth.board.lengthM - truth.board.contactM / 2
      const massKg = [1, 1.5, 2, 3, 4].find((kg) => Number.isFinite(trueFallS(truth, kg, atM)))!
      const filming = { rateHz: 30, noiseDeg: 0.08, eventSdS: 0.02 }
      const { events, moved, frames } = filmedDrop(truth, massKg, atM, filming, random)
      const untimed = { fallFromPlacedS: null, fallFromReleasedS: null }
      const curve = dropCurve({ massKg, massAtM: atM, ...events, ...untimed, moved, ...frames }, truth.board.lengthM)
      const fit = fitBoard([curve], truth.board, null, { settle: 60, keep: 90 })
      const [alone, ridden] = [fit, withRides(fit, riddenBoard(truth, 6, random), truth.board)].map((one) =>
        feelOf(one, truth),
      )
      return alone == null || ridden == null ? [] : [{ alone, ridden }]
    })
    expect(pairs.length).toBeGreaterThan(5)
    expect(pairs.filter(({ ridden }) => ridden.holds).length).toBeGreaterThanOrEqual(pairs.length - 1)
    expect(median(pairs.map(({ alone, ridden }) => ridden.width / alone.width))).toBeLessThan(0.85)
  })

  test('that contradict the drops change nothing', () => {
    const [{ truth, random }] = boards(1, 9500) as [ReturnType<typeof boards>[number]]
    const fit: BoardFit = {
      draws: [{ law: truth, overAxisM: 0.05 }],
      begins: [],
      settled: 'board',
      restRad: truth.restRad,
      swingRad: truth.groundRad - truth.restRad,
    }
    const rides = riddenBoard(truth, 3, random)
    expect(withRides(fit, rides, truth.board).draws.length).toBe(1)
    const slower = rides.map((ride) => ({ ...ride, fallS: 2 * ride.fallS }))
    expect(withRides(fit, slower, truth.board)).toBe(fit)
  })
})

describe('what a ride must show to tell of its board', () => {
  const ptsS = Array.from({ length: 101 }, (_, k) => k / 50)
  // Rests until 0.5 s, then turns evenly and lands at 1.3 s.
  const boardAngleDeg = ptsS.map((t) => -18 + 36 * Math.min(1, Math.max(0, (t - 0.5) / 0.8)))
  const ride = {
    events: {
      firstOn: measured(0, 0.01),
      tipStart: measured(0.5, 0.01),
      grounded: measured(1.3, 0.01),
      settled: measured(1, 0.01),
      left: measured(1.9, 0.01),
      bangHeard: measured(1.3, 0.01),
    },
    leaving: { verdict: 'after-ground' as const },
    frames: { ptsS, boardAngleDeg, bodyM: ptsS.map((t) => 2 + t / 2), leadPawM: [], rearPawM: [] },
  }
  const dog = { id: 'wren', massKg: 12 }

  test('the fall, the angles, and where the body was', () => {
    const told = weighedRide(ride, dog, 3.66)!
    expect(told.fallS).toBeCloseTo(0.8, 9)
    expect(told.restRad).toBeCloseTo((-18 * Math.PI) / 180, 9)
    expect(told.groundRad).toBeCloseTo((18 * Math.PI) / 180, 9)
    // A line from pivot on: 2.25 m along at the start of the tip.
    expect(told.bodyFromPivotM[0]).toBeCloseTo(2.25 - 1.83, 9)
    expect(told.bodyFromPivotM[10]).toBeCloseTo(2.35 - 1.83, 9)
  })

  test.each([
    ['a dog that left first', { ...ride, leaving: { verdict: 'before-ground' as const } }],
    ['a landing known to a tenth of a second', { ...ride, events: { ...ride.events, grounded: measured(1.3, 0.1) } }],
    [
      'a body that was lost on the way',
      { ...ride, frames: { ...ride.frames, bodyM: ptsS.map((t) => (t > 0.9 ? null : 2)) } },
    ],
  ])('%s tells nothing', (_, unfit) => {
    expect(weighedRide(unfit, dog, 3.66)).toBeNull()
  })
})

import { describe, expect, test } from 'vitest'
import { adviceFor } from '../../../analysis/board-physics/advice.ts'
import { type BoardFit, fitBoard } from '../../../analysis/board-physics/board-fit.ts'
import type { DropCurve } from '../../../analysis/board-physics/drop-curve.ts'
import { predictFall } from '../../../analysis/board-physics/weight-test.ts'
import type { Board } from '../../../analysis/board/board.ts'
import { measured } from '../../../analysis/estimate.ts'
import { judgeSimulated, type SimulatedCase } from '../../simulated-boards/judged-board.ts'

const short = (curves: readonly DropCurve[], board: Board, plankKg: number | null) =>
  fitBoard(curves, board, plankKg, { settle: 80, keep: 80 })
const judged = (kind: SimulatedCase, seeds: readonly number[]) =>
  seeds.map((seed) => judgeSimulated(kind, 'uk', seed, short)).filter(({ needsAdvice }) => needsAdvice)

// The whole of it, many boards: npm run bench:boards.
describe('advice for simulated boards that fall too fast, too slowly or not at all', () => {
  test('from two weights lands in the window and leaves a board that comes back', () => {
    const boards = judged('two-weights', [1, 2, 3, 4, 5, 6, 7, 8])
    const options = boards.flatMap((board) => board.options)
    expect(options.length).toBeGreaterThan(4)
    expect(options.filter(({ lands, returns }) => !(lands && returns))).toEqual([])
  })

  test('is given for heavy boards too, of which the drops alone do not tell how friction and bias share', () => {
    // Of these, one never moves under 1 kg, and the others are too slow; a mass that aims at the middle of the window may
    // leave too little to bring the entry end back.
    const boards = judged('two-weights', [1019, 1038, 1046])
    expect(boards.map(({ options }) => options.length > 0)).toEqual([true, true, true])
    expect(boards.flatMap(({ options }) => options).filter(({ lands, returns }) => !(lands && returns))).toEqual([])
  })

  test('from one weight alone is withheld, with what would settle it', () => {
    for (const board of judged('one-weight', [1, 2, 3, 4, 5030])) {
      expect(board.options).toEqual([])
      expect(['needs-second-weight', 'needs-heavier-weight']).toContain(board.withheld)
    }
  })
})

describe('advice that is withheld says what stands against it', () => {
  const restRad = -0.316
  /** Boards that a mass would bring into the window at once, but which differ in how much of what holds them is friction. */
  const fitOf = (coulombsNm: readonly number[]): BoardFit => ({
    draws: coulombsNm.map((coulombNm) => ({
      law: { inertiaKgM2: 40, biasTorqueNm: 11.5 - coulombNm, coulombNm, viscousNms: 2 },
      overAxisM: 0.03,
    })),
    begins: [],
    settled: 'board',
    restRad,
    swingRad: -2 * restRad,
  })
  const uk = { massKg: 1, massAtM: 3.203, handS: measured(0.4, 0.008), repeatS: 0.004, leastS: 2, mostS: 3 }
  const withheldOf = (fit: BoardFit) => {
    const now = predictFall(fit, uk, { lengthM: 3.66 })
    return adviceFor(fit, uk, now, { lengthM: 3.66 }).withheld
  }

  test('the way back where the drops leave it open whether the entry end comes back', () => {
    const withheld = withheldOf(fitOf(Array.from({ length: 100 }, (_, k) => (5.5 * k) / 100)))
    expect(withheld).toMatchObject({ reason: 'too-uncertain' })
    expect(withheld?.detail).toContain('comes back')
  })

  test('axle and friction where it surely stays down', () => {
    expect(withheldOf(fitOf(Array.from({ length: 100 }, () => 9)))).toMatchObject({ reason: 'no-safe-place' })
  })
})

import { describe, expect, test } from 'vitest'
import { fitBoard } from '../../../analysis/board-physics/board-fit.ts'
import type { DropCurve } from '../../../analysis/board-physics/drop-curve.ts'
import type { Board } from '../../../analysis/board/board.ts'
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

  test('from one weight alone is withheld, with what would settle it', () => {
    for (const board of judged('one-weight', [1, 2, 3, 4])) {
      expect(board.options).toEqual([])
      expect(['needs-second-weight', 'needs-heavier-weight']).toContain(board.withheld)
    }
  })
})

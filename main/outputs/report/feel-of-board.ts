import { fittedBoard } from '../../../analysis/board-physics/board-check.ts'
import { boardFeel, type BoardFeel } from '../../../analysis/board-physics/feel.ts'
import { withRides } from '../../../analysis/board-physics/ridden-board.ts'
import type { BoardCheckOrder } from './board-check.ts'

/** How a board feels to dogs, by its drop tests and by rides of weighed dogs; it takes a second or two. */
export function feelOfBoard(
  order: Pick<BoardCheckOrder, 'board' | 'drops' | 'plankKg'> & Required<Pick<BoardCheckOrder, 'rides'>>,
): BoardFeel {
  const { board, drops, rides } = order
  const fit = withRides(fittedBoard(order), rides, board)
  return boardFeel(fit, board, { drops: drops.length, rides: rides.length })
}

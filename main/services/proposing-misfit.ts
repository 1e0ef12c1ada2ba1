import type { Board } from '../../analysis/board/board.ts'
import type { Marks } from '../../analysis/board/marks.ts'
import { calibrate } from '../../analysis/calibration/calibrate.ts'
import type { MarksProposal } from '../contract/clips.ts'

/** How far marks lie from a seesaw that fits them; null when no seesaw of this board does. */
export function misfitOf(
  board: Board,
  marks: Marks,
  picture: { readonly widthPx: number; readonly heightPx: number },
): MarksProposal['misfit'] {
  const fitted = calibrate(board, marks, picture)
  if (fitted.kind === 'impossible') return null
  const { entryEnd, exitEnd } = marks.rest
  const plankPx = Math.hypot(exitEnd.xPx - entryEnd.xPx, exitEnd.yPx - entryEnd.yPx)
  const px = fitted.calibration.misfitPx
  return { px, m: (px * board.lengthM) / plankPx }
}

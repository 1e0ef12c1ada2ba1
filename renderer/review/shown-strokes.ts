import { nearestFrame } from '../../analysis/drawing/frame-drawing.ts'
import type { ReviewComment, Stroke } from '../../analysis/review/review-item.ts'

/** The drawings that belong on a frame: those of its own moment, and those of spans that it lies in. */
export function shownStrokes(
  comments: readonly ReviewComment[],
  ptsS: Float64Array,
  element: number,
): readonly Stroke[] {
  const atS = ptsS[element] ?? 0
  return comments
    .filter(({ strokes }) => strokes.length > 0)
    .filter((one) => {
      if (one.atS === null) return false
      if (one.toS !== null) return atS >= one.atS - 1e-6 && atS <= one.toS + 1e-6
      return nearestFrame(ptsS, one.atS) === element
    })
    .flatMap(({ strokes }) => strokes)
}

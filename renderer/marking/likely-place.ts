import type { Board } from '../../analysis/board/board.ts'
import type { ImagePx } from '../../analysis/geometry/points.ts'
import type { MarksDraft } from '../../main/contract/clips.ts'
import type { Fit } from './fit.ts'
import { type PointId, pointOf, shareAlong } from './mark-point.ts'

/**
 * Where a point begins that is placed by key, to be moved from there: on the line between the ends, or where the fit
 * has the landed ends; null while nothing speaks for a place.
 */
export function likelyPlace(marks: MarksDraft, id: PointId, board: Board, fit: Fit | null): ImagePx | null {
  if (id.moment === 'grounded') {
    if (fit?.kind !== 'fitted') return null
    const { edge } = fit.drawings.grounded
    return (id.name === 'entryEnd' ? edge[0] : edge.at(-1)) ?? null
  }
  const entry = pointOf(marks, { moment: 'rest', name: 'entryEnd' })
  const exit = pointOf(marks, { moment: 'rest', name: 'exitEnd' })
  if (entry === null || exit === null) return null
  const share = shareAlong(id.name, board.contactM / board.lengthM)
  return { xPx: entry.xPx + share * (exit.xPx - entry.xPx), yPx: entry.yPx + share * (exit.yPx - entry.yPx) }
}

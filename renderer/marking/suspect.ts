import type { Fit } from './fit.ts'
import type { PointId } from './mark-point.ts'

/** Clicks are taken to be good to 1.5 px in each direction; a point further off than this deserves a second look. */
const SECOND_LOOK_PX = 4

/** The point that is most likely wrong, if one is. */
export function suspectOf(fit: Fit | null): PointId | null {
  if (fit === null) return null
  if (fit.kind === 'impossible') return fit.point
  return fit.worst.misfitPx > SECOND_LOOK_PX ? fit.worst.point : null
}

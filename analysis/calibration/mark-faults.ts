import { SHORTEST_PLANK_PX } from '../board/marks-limits.ts'
import type { MarkPoint, PointOfMarks } from './mark-points.ts'
import type { PictureSize } from './seesaw-camera.ts'

/** What is wrong with the marks. */
export interface MarkFault {
  readonly point: PointOfMarks | null
  /** A sentence for people: what is wrong, and what to do. */
  readonly reason: string
}

/**
 * Faults of the marks that show without any fit: swapped ends, points out of order, points outside the picture.
 *
 * @param points as `markPoints` gives them
 * @param picture size of the displayed picture, px
 * @param asClicked false when the grounded points were carried into the rest frame, where they may lie outside
 * @returns the point and one sentence that names it and says what to do, or `null` when nothing is plainly wrong
 */
export function plainFault(points: readonly MarkPoint[], picture: PictureSize, asClicked: boolean): MarkFault | null {
  for (const point of points) {
    if (point.when === 'grounded' && !asClicked) continue
    const { xPx, yPx } = point.image
    const outside = xPx < 0 || yPx < 0 || xPx > picture.widthPx || yPx > picture.heightPx
    if (outside || !Number.isFinite(xPx + yPx)) {
      return faultAt(
        point,
        `lies at (${xPx}, ${yPx}), outside the picture of ${picture.widthPx} x ${picture.heightPx} px: ` +
          'mark it again inside the picture.',
      )
    }
  }
  const resting = points.filter(({ when }) => when === 'rest')
  const landed = points.filter(({ when }) => when === 'grounded')
  const entry = resting[0]!
  const exit = resting.at(-1)!
  const lengthPx = distancePx(entry, exit)
  if (lengthPx < SHORTEST_PLANK_PX) {
    return faultAt(
      entry,
      `and the exit end are only ${lengthPx.toFixed(0)} px apart: the board is too small in the picture, or one of ` +
        'the two is wrong; mark both ends of the near top edge.',
    )
  }
  if (entry.image.yPx <= exit.image.yPx) {
    return faultAt(
      entry,
      'lies higher in the picture than the exit end, but at rest the entry end is on the ground: the two ends look ' +
        'swapped; mark the entry end where the dog gets on.',
    )
  }
  for (let k = 1; k < resting.length; k++) {
    const before = resting[k - 1]!
    const after = resting[k]!
    if (placeOnLine(after, entry, exit) <= placeOnLine(before, entry, exit)) {
      return faultAt(
        after,
        `does not come after the ${POINT_NAMES[before.name]}: the points are out of order; mark them again from the ` +
          'entry end to the exit end.',
      )
    }
  }
  const [landedEntry, landedExit] = landed
  if (landedEntry === undefined || landedExit === undefined) return null
  if (distancePx(landedEntry, landedExit) < SHORTEST_PLANK_PX) {
    return faultAt(landedEntry, 'and the exit end are nearly the same point: mark both ends of the near top edge.')
  }
  const restRightwards = exit.image.xPx > entry.image.xPx
  if (landedExit.image.xPx > landedEntry.image.xPx !== restRightwards) {
    return faultAt(
      landedEntry,
      'and the exit end run the other way than at rest: the two ends look swapped; mark the entry end at the same ' +
        'end in both frames.',
    )
  }
  if (landedExit.image.yPx <= landedEntry.image.yPx) {
    return faultAt(
      landedExit,
      'lies higher in the picture than the entry end, but there the exit end should be on the ground: mark a frame in ' +
        'which the exit end has landed.',
    )
  }
  return null
}

const POINT_NAMES: Readonly<Record<MarkPoint['name'], string>> = {
  entryEnd: 'entry end',
  upContactEdge: 'up contact border',
  pivot: 'pivot',
  downContactEdge: 'down contact border',
  exitEnd: 'exit end',
}

/** The fault of one `point`; `what` goes on after its name: "The pivot in frame 8 (board at rest) lies ...". */
export function faultAt(point: MarkPoint, what: string): MarkFault {
  const { name, frame, when } = point
  const where = `in frame ${frame} (${when === 'rest' ? 'board at rest' : 'exit end down'})`
  return { point: { name, when }, reason: `The ${POINT_NAMES[name]} ${where} ${what}` }
}

function distancePx(a: MarkPoint, b: MarkPoint): number {
  return Math.hypot(a.image.xPx - b.image.xPx, a.image.yPx - b.image.yPx)
}

function placeOnLine(point: MarkPoint, entry: MarkPoint, exit: MarkPoint): number {
  const dx = exit.image.xPx - entry.image.xPx
  const dy = exit.image.yPx - entry.image.yPx
  return (point.image.xPx - entry.image.xPx) * dx + (point.image.yPx - entry.image.yPx) * dy
}

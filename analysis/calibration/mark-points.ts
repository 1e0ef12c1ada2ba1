import type { Board } from '../board/board.ts'
import type { Marks } from '../board/marks.ts'
import type { ImagePx } from '../geometry/points.ts'

/** One clicked point and where it lies along the plank's near top edge. */
export interface MarkPoint {
  readonly name: 'entryEnd' | 'upContactEdge' | 'pivot' | 'downContactEdge' | 'exitEnd'
  readonly when: 'rest' | 'grounded'
  readonly frame: number
  readonly alongM: number
  readonly image: ImagePx
}

/** Which of the clicked points. */
export type PointOfMarks = Pick<MarkPoint, 'name' | 'when'>

/** All clicked points: five of the resting board from entry to exit, then the two of the grounded board if there. */
export function markPoints(board: Board, { rest, grounded }: Marks): MarkPoint[] {
  const { lengthM, contactM } = board
  const resting = { when: 'rest', frame: rest.frame } as const
  const points: MarkPoint[] = [
    { ...resting, name: 'entryEnd', alongM: 0, image: rest.entryEnd },
    { ...resting, name: 'upContactEdge', alongM: contactM, image: rest.upContactEdge },
    { ...resting, name: 'pivot', alongM: lengthM / 2, image: rest.pivot },
    { ...resting, name: 'downContactEdge', alongM: lengthM - contactM, image: rest.downContactEdge },
    { ...resting, name: 'exitEnd', alongM: lengthM, image: rest.exitEnd },
  ]
  if (grounded !== undefined) {
    const landed = { when: 'grounded', frame: grounded.frame } as const
    points.push({ ...landed, name: 'entryEnd', alongM: 0, image: grounded.entryEnd })
    points.push({ ...landed, name: 'exitEnd', alongM: lengthM, image: grounded.exitEnd })
  }
  return points
}

import type { ImagePx } from '../../analysis/geometry/points.ts'
import type { MarksDraft } from '../../main/contract/clips.ts'

/** The two moments that are marked. */
export type Moment = 'rest' | 'grounded'
export type PointName = 'entryEnd' | 'exitEnd' | 'pivot' | 'upContactEdge' | 'downContactEdge'

/** One point to be marked. */
export interface PointId {
  readonly moment: Moment
  readonly name: PointName
}

/** Ends first: all else lies between them. */
export const POINTS: Readonly<Record<Moment, readonly PointName[]>> = {
  rest: ['entryEnd', 'exitEnd', 'pivot', 'upContactEdge', 'downContactEdge'],
  grounded: ['entryEnd', 'exitEnd'],
}

/** What people call the points. */
export const POINT_TITLES: Readonly<Record<PointName, string>> = {
  entryEnd: 'Entry end',
  exitEnd: 'Exit end',
  pivot: 'Pivot',
  upContactEdge: 'Up contact border',
  downContactEdge: 'Down contact border',
}

/** Where to click, a sentence. All points lie on one line: the top edge of the plank that is nearest to the camera. */
export function whereToClick({ moment, name }: PointId): string {
  switch (name) {
    case 'entryEnd':
      return moment === 'rest'
        ? 'The very tip where the dog gets on, top edge nearest you.'
        : 'The same tip, now up in the air.'
    case 'exitEnd':
      return moment === 'rest'
        ? 'The very tip where the dog gets off, top edge nearest you.'
        : 'The same tip, now down on the ground.'
    case 'pivot':
      return 'The middle of the plank, straight over the bolt it turns on, same edge.'
    case 'upContactEdge':
      return 'Where the colour ends on the entry side, same edge.'
    case 'downContactEdge':
      return 'Where the colour begins on the exit side, same edge.'
  }
}

/** Where a point lies along the plank, as a share of its length. */
export function shareAlong(name: PointName, contactShare: number): number {
  switch (name) {
    case 'entryEnd':
      return 0
    case 'exitEnd':
      return 1
    case 'pivot':
      return 0.5
    case 'upContactEdge':
      return contactShare
    case 'downContactEdge':
      return 1 - contactShare
  }
}

/** The clicked point; null while it is not placed. */
export function pointOf(marks: MarksDraft, { moment, name }: PointId): ImagePx | null {
  if (moment === 'rest') return marks.rest?.[name] ?? null
  if (name !== 'entryEnd' && name !== 'exitEnd') return null
  return marks.grounded?.[name] ?? null
}

/** The marks with one point placed, moved or (null) taken away; `frame` is used if its moment had no frame yet. */
export function withPoint(marks: MarksDraft, id: PointId, point: ImagePx | null, frame: number): MarksDraft {
  const shown = withFrame(marks, id.moment, marks[id.moment]?.frame ?? frame)
  if (id.moment === 'rest') return { ...shown, rest: { ...shown.rest!, [id.name]: point } }
  return { ...shown, neverLands: false, grounded: { ...shown.grounded!, [id.name]: point } }
}

/** The marks with another frame for one moment; its points stay. */
export function withFrame(marks: MarksDraft, moment: Moment, frame: number): MarksDraft {
  if (moment === 'rest') {
    const none = { entryEnd: null, exitEnd: null, pivot: null, upContactEdge: null, downContactEdge: null }
    return { ...marks, rest: { ...(marks.rest ?? none), frame } }
  }
  return { ...marks, grounded: { ...(marks.grounded ?? { entryEnd: null, exitEnd: null }), frame } }
}

/** The next point of a moment, after `name` and round again, that is not placed yet; null if all are. */
export function nextUnplaced(marks: MarksDraft, moment: Moment, name: PointName): PointName | null {
  const names = POINTS[moment]
  const at = names.indexOf(name)
  const order = [...names.slice(at + 1), ...names.slice(0, at + 1)]
  return order.find((one) => pointOf(marks, { moment, name: one }) === null) ?? null
}

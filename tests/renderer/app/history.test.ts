import { expect, test } from 'vitest'
import type { MarksDraft } from '../../../main/contract/clips.ts'
import * as history from '../../../renderer/app/history.ts'
import { pointOf, withFrame, withPoint } from '../../../renderer/marking/mark-point.ts'

type MarksHistory = history.History<MarksDraft>
type HistoryAction = history.HistoryAction<MarksDraft>
const { advance, beginHistory } = history

const NONE: MarksDraft = { rest: null, grounded: null, neverLands: false }
const pivot = { moment: 'rest', name: 'pivot' } as const

function putPivot(xPx: number, running: string | null = null): HistoryAction {
  return { kind: 'change', change: (marks) => withPoint(marks, pivot, { xPx, yPx: 20 }, 8), running }
}

function after(...actions: readonly HistoryAction[]): MarksHistory {
  return actions.reduce(advance<MarksDraft>, beginHistory(NONE))
}

const pivotX = (history: MarksHistory): number | null => pointOf(history.present, pivot)?.xPx ?? null

test('each change is taken back and done again, one at a time', () => {
  const two = [putPivot(10), putPivot(11)]
  expect(pivotX(after(...two))).toBe(11)
  expect(pivotX(after(...two, { kind: 'undo' }))).toBe(10)
  expect(pivotX(after(...two, { kind: 'undo' }, { kind: 'undo' }))).toBeNull()
  expect(pivotX(after(...two, { kind: 'undo' }, { kind: 'undo' }, { kind: 'redo' }))).toBe(10)
})

test('a drag is one step however often the pointer moved', () => {
  const drag = [putPivot(11, 'drag'), putPivot(12, 'drag'), putPivot(13, 'drag')]
  expect(pivotX(after(putPivot(10), ...drag, { kind: 'undo' }))).toBe(10)
})

test('two drags with a rest between them are two steps', () => {
  const history = after(putPivot(11, 'drag'), { kind: 'rest' }, putPivot(12, 'drag'), { kind: 'undo' })
  expect(pivotX(history)).toBe(11)
})

test('a new change after taking back throws away what was taken back', () => {
  const history = after(putPivot(10), putPivot(11), { kind: 'undo' }, putPivot(30), { kind: 'redo' })
  expect(pivotX(history)).toBe(30)
  expect(history.future).toEqual([])
})

test('taking back with nothing done changes nothing', () => {
  expect(after({ kind: 'undo' }, { kind: 'redo' })).toEqual(beginHistory(NONE))
})

test('choosing another frame keeps the points, and a point in the landing says that it lands', () => {
  const moved = withFrame(withPoint(NONE, pivot, { xPx: 1, yPx: 2 }, 8), 'rest', 30)
  expect(moved.rest).toMatchObject({ frame: 30, pivot: { xPx: 1, yPx: 2 } })
  const landed = withPoint(
    { ...NONE, neverLands: true },
    { moment: 'grounded', name: 'exitEnd' },
    { xPx: 3, yPx: 4 },
    99,
  )
  expect(landed).toMatchObject({ neverLands: false, grounded: { frame: 99, entryEnd: null } })
})

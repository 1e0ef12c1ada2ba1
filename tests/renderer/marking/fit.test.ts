import { expect, test } from 'vitest'
import type { Marks } from '../../../analysis/board/marks.ts'
import type { MarksDraft } from '../../../main/contract/clips.ts'
import { readinessOf } from '../../../renderer/marking/complete-marks.ts'
import { type Fit, fitMarks } from '../../../renderer/marking/fit.ts'
import { likelyPlace } from '../../../renderer/marking/likely-place.ts'
import { pointOf, withPoint } from '../../../renderer/marking/mark-point.ts'
import { suspectOf } from '../../../renderer/marking/suspect.ts'
import { wrenBoard, wrenMarks, wrenPicture } from './sample-marks.ts'

function complete(draft: MarksDraft): Marks {
  const readiness = readinessOf(draft, 'wren-hold.mp4')
  if (readiness.kind !== 'complete') throw new Error(readiness.lacks)
  return readiness.marks
}

function fitOf(draft: MarksDraft): Fit {
  return fitMarks(wrenBoard, complete(draft), wrenPicture)
}

const restPivot = { moment: 'rest', name: 'pivot' } as const

test('marks of a sample clip fit its board, and the drawn edge ends where the ends were clicked', () => {
  const draft = wrenMarks()
  const fit = fitOf(draft)
  if (fit.kind !== 'fitted') throw new Error(fit.reason)
  expect(fit.misfitPx).toBeLessThan(2)
  // The plank is 3.66 m long and about 563 px in the picture.
  expect(fit.misfitM / fit.misfitPx).toBeCloseTo(3.66 / 563, 4)
  for (const [moment, at] of [
    ['rest', 0],
    ['grounded', -1],
  ] as const) {
    const name = at === 0 ? 'entryEnd' : 'exitEnd'
    const clicked = pointOf(draft, { moment, name })!
    const drawn = fit.drawings[moment].edge.at(at)!
    expect(Math.hypot(drawn.xPx - clicked.xPx, drawn.yPx - clicked.yPx)).toBeLessThan(4)
  }
  expect(suspectOf(fit)).toBeNull()
})

test('a pivot clicked 15 px beside itself is the point that is shown as wrong', () => {
  const draft = wrenMarks()
  const { xPx, yPx } = draft.rest!.pivot!
  const fit = fitOf(withPoint(draft, restPivot, { xPx: xPx + 15, yPx }, 8))
  expect(suspectOf(fit)).toEqual(restPivot)
})

test('swapped ends are told in words of the screen', () => {
  const draft = wrenMarks()
  const { entryEnd, exitEnd } = draft.rest!
  const fit = fitOf({ ...draft, rest: { ...draft.rest!, entryEnd: exitEnd, exitEnd: entryEnd } })
  if (fit.kind !== 'impossible') throw new Error('this must not fit')
  expect(fit.reason).toContain('swapped')
  expect(fit.reason).not.toMatch(/entryEnd|exitEnd/)
  expect(fit.reason).toMatch(/^The entry end/)
})

test('five points are enough for a fit, and the landing is then the next thing to mark', () => {
  const draft = wrenMarks()
  expect(readinessOf({ ...draft, grounded: { ...draft.grounded!, exitEnd: null } }, 'x.mp4').kind).toBe('fits')
  expect(readinessOf({ ...draft, grounded: null, neverLands: true }, 'x.mp4').kind).toBe('complete')
  expect(readinessOf(withPoint(draft, restPivot, null, 8), 'x.mp4').kind).toBe('incomplete')
})

test('a point placed by key begins on the line between the ends, and a landed end where the fit has it', () => {
  const draft = wrenMarks()
  const { entryEnd, exitEnd } = draft.rest!
  const pivot = likelyPlace(draft, restPivot, wrenBoard, null)!
  expect(pivot.xPx).toBeCloseTo((entryEnd!.xPx + exitEnd!.xPx) / 2, 9)
  expect(pivot.yPx).toBeCloseTo((entryEnd!.yPx + exitEnd!.yPx) / 2, 9)
  const landed = { moment: 'grounded', name: 'exitEnd' } as const
  expect(likelyPlace(draft, landed, wrenBoard, null)).toBeNull()
  const fromFit = likelyPlace({ ...draft, grounded: null }, landed, wrenBoard, fitOf(draft))!
  const clicked = draft.grounded!.exitEnd!
  expect(Math.hypot(fromFit.xPx - clicked.xPx, fromFit.yPx - clicked.yPx)).toBeLessThan(5)
})

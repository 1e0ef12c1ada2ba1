import { expect, test } from 'vitest'
import type { ReviewComment } from '../../../analysis/review/review-item.ts'
import { angleDeg } from '../../../renderer/review/stroke-angle.ts'
import { shownStrokes } from '../../../renderer/review/shown-strokes.ts'

test('an angle is that at its corner, never more than a half turn', () => {
  expect(
    angleDeg([
      [1, 0],
      [0, 0],
      [0, 1],
    ]),
  ).toBeCloseTo(90, 9)
  expect(
    angleDeg([
      [1, 1],
      [0, 0],
      [1, -1],
    ]),
  ).toBeCloseTo(90, 9)
  expect(
    angleDeg([
      [-5, 1e-9],
      [0, 0],
      [5, 0],
    ]),
  ).toBeCloseTo(180, 6)
})

test('a drawing stands on its own frame alone, or through its span', () => {
  const stroke = {
    shape: 'line',
    points: [
      { xShare: 0, yShare: 0 },
      { xShare: 1, yShare: 1 },
    ],
  } as const
  const comment = (atS: number, toS: number | null): ReviewComment => ({
    id: `${'a'.repeat(16)}.${'0'.repeat(12)}`,
    author: { id: 'a'.repeat(16), name: 'Ada' },
    version: 1,
    madeAt: '',
    isRemoved: false,
    kind: 'comment',
    atS,
    toS,
    text: '',
    strokes: [stroke],
  })
  const ptsS = Float64Array.of(0, 0.1, 0.2, 0.3)
  const frames = (one: ReviewComment) => [0, 1, 2, 3].filter((k) => shownStrokes([one], ptsS, k).length > 0)
  expect(frames(comment(0.11, null))).toEqual([1])
  expect(frames(comment(0.1, 0.25))).toEqual([1, 2])
})

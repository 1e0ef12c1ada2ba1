import { describe, expect, test } from 'vitest'
import { commentTimes, type Drawing, withoutLastStroke, withStroke } from '../../../renderer/review/drawing.ts'

const stroke = { shape: 'freehand', points: [{ xShare: 0.1, yShare: 0.2 }] } as const
const drawing: Drawing = { atS: 1.4, strokes: [stroke] }

describe('what is drawn', () => {
  test('belongs to the frame that it was drawn on, though another is shown when the comment is added', () => {
    expect(commentTimes('moment', 2, null, drawing)).toEqual({ atS: 1.4, toS: null })
    expect(commentTimes('ride', 2, null, drawing)).toEqual({ atS: 1.4, toS: null })
  })

  test('lies in the span that is commented on', () => {
    expect(commentTimes('span', 2, 1.8, drawing)).toEqual({ atS: 1.4, toS: 2 })
    expect(commentTimes('span', 1, 1.2, drawing)).toEqual({ atS: 1, toS: 1.4 })
  })

  test('grows on its own frame alone, and goes stroke by stroke', () => {
    const two = withStroke(withStroke(null, stroke, 1.4), stroke, 1.4)
    expect(two.strokes).toHaveLength(2)
    expect(withStroke(two, stroke, 1.5)).toEqual(two)
    expect(withoutLastStroke(two)).toEqual(drawing)
    expect(withoutLastStroke(drawing)).toBeNull()
  })
})

test('without a drawing a comment is about what is shown, a span in either direction, or the whole ride', () => {
  expect(commentTimes('moment', 2, null, null)).toEqual({ atS: 2, toS: null })
  expect(commentTimes('span', 1, 2, null)).toEqual({ atS: 1, toS: 2 })
  expect(commentTimes('ride', 2, null, null)).toEqual({ atS: null, toS: null })
})

import { expect, test } from 'vitest'
import { nudgeOf } from '../../../renderer/marking/nudge.ts'

const plain = { shiftKey: false, ctrlKey: false }

test('an arrow key moves a point by a quarter of a pixel, with shift by 2, with control by 25', () => {
  expect(nudgeOf({ ...plain, key: 'ArrowLeft' })).toEqual({ byXPx: -0.25, byYPx: 0 })
  expect(nudgeOf({ ...plain, key: 'ArrowDown', shiftKey: true })).toEqual({ byXPx: 0, byYPx: 2 })
  expect(nudgeOf({ ...plain, key: 'ArrowUp', ctrlKey: true })).toEqual({ byXPx: 0, byYPx: -25 })
})

test('other keys move nothing', () => {
  expect(nudgeOf({ ...plain, key: 'Tab' })).toBeNull()
})

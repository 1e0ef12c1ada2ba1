import { expect, test } from 'vitest'
import { timeLeft } from '../../../renderer/app/time-left.ts'

test('time left is rounded up to what people can feel', () => {
  expect([2, 12, 60, 61, 100].map(timeLeft)).toEqual([
    'a moment left',
    'about 15 s left',
    'about 60 s left',
    'about 2 min left',
    'about 2 min left',
  ])
})

test('nothing is said where it cannot be told', () => {
  expect(timeLeft(null)).toBeNull()
})

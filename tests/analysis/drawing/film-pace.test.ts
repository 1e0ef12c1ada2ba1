import { expect, test } from 'vitest'
import { filmTimeS, slowPassages } from '../../../analysis/drawing/film-pace.ts'
import { measured, withheld } from '../../../analysis/estimate.ts'

test('a film goes at the true pace, and four times as long in slow passages', () => {
  const slow = [
    [2, 2.5],
    [3, 3.25],
  ] as const
  expect(filmTimeS(1, 1, slow)).toBe(0)
  expect(filmTimeS(2, 1, slow)).toBe(1)
  expect(filmTimeS(2.5, 1, slow)).toBe(3)
  expect(filmTimeS(3.5, 1, slow)).toBeCloseTo(2.5 + 1.5 + 0.75, 12)
})

test('passages that touch are one, and there is none where nothing was measured', () => {
  const none = withheld('never-tipped', 'The board never began to tip.')
  expect(slowPassages({ tipStart: none, grounded: none })).toEqual([])
  expect(slowPassages({ tipStart: measured(2, 0.01), grounded: none })).toEqual([[1.85, 2.15]])
  expect(slowPassages({ tipStart: measured(2, 0.01), grounded: measured(2.3, 0.01) })).toEqual([
    [1.85, 2.6999999999999997],
  ])
})

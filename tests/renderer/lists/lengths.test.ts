import { expect, test } from 'vitest'
import { lengthUnit, massUnit, shownIn } from '../../../renderer/lists/lengths.ts'
import { isYoung } from '../../../renderer/lists/young-dog.ts'

test('12 ft are 144 in are 365.76 cm', () => {
  expect(shownIn(lengthUnit('imperial'), 3.6576)).toBe('144 in')
  expect(shownIn(lengthUnit('metric'), 3.6576)).toBe('365.8 cm')
})

test('a kilogram is 2.2 pounds', () => {
  expect(shownIn(massUnit('imperial'), 1)).toBe('2.2 lb')
})

test('a dog is young for a year and a half', () => {
  const today = new Date(2026, 5, 15)
  expect(isYoung('2025-01', today)).toBe(true)
  expect(isYoung('2024-12', today)).toBe(false)
  expect(isYoung('', today)).toBe(false)
})

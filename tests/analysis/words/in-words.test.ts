import { describe, expect, test } from 'vitest'
import { measured } from '../../../analysis/estimate.ts'
import { fixed, listInWords, marginInWords, placeInWords } from '../../../analysis/words/in-words.ts'

describe('numbers in words', () => {
  test('use a real minus sign, and none for zero', () => {
    expect(fixed(-6.71, 1)).toBe('−6.7')
    expect(fixed(-0.004, 2)).toBe('0.00')
    expect(fixed(0.125, 2)).toBe('0.13')
  })

  test('a margin is half the 95 % interval: 1.96 sd', () => {
    expect(marginInWords(measured(0.5, 0.05), 2)).toBe('give or take 0.10')
    expect(marginInWords(measured(0.5, 0.001), 2)).toBe('give or take less than 0.01')
  })

  test('an uneven interval is told by its ends, from the origin of the value shown', () => {
    const uneven = { kind: 'measured', value: 2.7, sd: 0.1, ci95: [2.68, 2.93] } as const
    expect(marginInWords(uneven, 2)).toBe('between 2.68 and 2.93')
    expect(marginInWords(uneven, 2, -1.83)).toBe('between 0.85 and 1.10')
  })

  test('a place is told from the pivot', () => {
    expect(placeInWords(2.7, 3.66)).toBe('0.87 m past the pivot')
    expect(placeInWords(0.83, 3.66)).toBe('1.00 m before the pivot')
    expect(placeInWords(1.832, 3.66)).toBe('at the pivot')
  })

  test('lists end with "and"', () => {
    expect(listInWords(['a'])).toBe('a')
    expect(listInWords(['a', 'b', 'c'])).toBe('a, b and c')
    expect(listInWords([])).toBe('')
  })
})

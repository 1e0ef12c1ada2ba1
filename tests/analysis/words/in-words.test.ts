import { describe, expect, test } from 'vitest'
import { measured } from '../../../analysis/estimate.ts'
import {
  fixed,
  listInWords,
  marginInWords,
  placeInWords,
  placeMarginInWords,
} from '../../../analysis/words/in-words.ts'

describe('numbers in words', () => {
  test('use a real minus sign, and none for zero', () => {
    expect(fixed(-6.71, 1)).toBe('−6.7')
    expect(fixed(-0.004, 2)).toBe('0.00')
    expect(fixed(0.125, 2)).toBe('0.13')
  })

  test('a margin is half the 95 % interval: 1.96 sd', () => {
    expect(marginInWords(measured(0.5, 0.05), 2)).toBe('± 0.10')
    expect(marginInWords(measured(0.5, 0.001), 2)).toBe('± 0.01')
  })

  test('an uneven interval is given by its ends; that of a place by its distances from the pivot', () => {
    const uneven = { kind: 'measured', value: 2.7, sd: 0.1, ci95: [2.68, 2.93] } as const
    expect(marginInWords(uneven, 2)).toBe('(2.68 to 2.93)')
    expect(placeMarginInWords(uneven, 3.66)).toBe('(0.85 to 1.10)')
    expect(placeMarginInWords({ ...uneven, value: 0.96, ci95: [0.73, 0.98] }, 3.66)).toBe('(0.85 to 1.10)')
  })

  test('where the interval of a place spans the pivot, its wider side is given', () => {
    const across = { kind: 'measured', value: 1.93, sd: 0.1, ci95: [1.73, 1.98] } as const
    expect(placeMarginInWords(across, 3.66)).toBe('± 0.20')
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

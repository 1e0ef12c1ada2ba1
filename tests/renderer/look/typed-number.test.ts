import { expect, test } from 'vitest'
import { typedNumber } from '../../../renderer/look/typed-number.ts'

const withers = { least: 0.1 / 0.01, most: 1.2 / 0.01, unit: 'cm', decimals: 1 }

test('decimal comma and decimal point mean the same', () => {
  expect(typedNumber('47,5', withers)).toEqual({ kind: 'number', value: 47.5 })
  expect(typedNumber('47.5', withers)).toEqual({ kind: 'number', value: 47.5 })
  expect(typedNumber(' ,5 ')).toEqual({ kind: 'number', value: 0.5 })
  expect(typedNumber('\u22121,53')).toEqual({ kind: 'number', value: -1.53 })
})

test('what is out of bounds is no number, and the bounds are said', () => {
  expect(typedNumber('5', withers)).toEqual({ kind: 'fault', fault: 'Between 10 and 120 cm.' })
  expect(typedNumber('475', withers)).toEqual({ kind: 'fault', fault: 'Between 10 and 120 cm.' })
  // 0.1 m and 1.2 m in inches, rounded so that both can be typed.
  const inches = { least: 0.1 / 0.0254, most: 1.2 / 0.0254, unit: 'in', decimals: 2 }
  expect(typedNumber('3', inches)).toEqual({ kind: 'fault', fault: 'Between 3.94 and 47.24 in.' })
  expect(typedNumber('3.94', inches).kind).toBe('number')
  expect(typedNumber('47.24', inches).kind).toBe('number')
})

test('what can be read in two ways or not at all is not guessed at', () => {
  for (const text of ['1,000.5', '1.000,5', '47 5', 'about 47', '4 7', '-', '1e3', '0x10'])
    expect(typedNumber(text)).toEqual({ kind: 'fault', fault: 'Enter a number, such as 47.5.' })
})

test('nothing typed is nothing', () => {
  expect(typedNumber('  ')).toEqual({ kind: 'empty' })
})

import { expect, test } from 'vitest'
import { checkBuild } from '../../../analysis/rules/build-check.ts'
import { sizesInWords } from '../../../analysis/rules/build-words.ts'
import { ruleSetOf } from '../../../analysis/rules/rule-sets.ts'

test('the sizes that are outside a rule book are named', () => {
  // UK national regulations as amended in 2020: 3.66 m long, 0.295 to 0.305 m wide, contacts of 0.914 m.
  const board = { lengthM: 3.66, widthM: 0.34, pivotHeightM: 0.61, contactM: 0.8 }
  expect(sizesInWords(checkBuild(board, ruleSetOf('uk')!))).toBe('outside: width and contact zone')
  expect(sizesInWords(checkBuild({ ...board, widthM: 0.305, contactM: 0.914 }, ruleSetOf('uk')!))).toBe(
    'at the limit: width',
  )
})

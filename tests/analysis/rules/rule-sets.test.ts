import { expect, test } from 'vitest'
import { buildFigures, RULE_SETS, ruleSetOf, testMassAlongM, usualBoard } from '../../../analysis/rules/rule-sets.ts'
import {
  buildSourceInWords,
  dropPlaceInWords,
  dropTimeInWords,
  sourceInWords,
} from '../../../analysis/rules/rule-words.ts'
import { lengthUnit, shownIn } from '../../../renderer/lists/lengths.ts'
import { boardInput } from '../../../main/contract/dogs-and-boards.ts'

const alongOf = (key: string) => {
  const rules = ruleSetOf(key)!
  return testMassAlongM(rules.drop!.says.where, usualBoard(rules)) - usualBoard(rules).lengthM / 2
}

// The plank's lever: half its length less half a zone (UK, FCI) or less 12 in (AKC: 6 ft - 1 ft = 5 ft = 1.524 m exactly).
test('the test weight lies on the lever that the rule book gives it', () => {
  expect(alongOf('uk')).toBeCloseTo(3.66 / 2 - 0.914 / 2, 9)
  expect(alongOf('fci')).toBeCloseTo(3.7 / 2 - 0.9 / 2, 9)
  expect(alongOf('akc')).toBeCloseTo(1.524, 9)
})

// AKC agility regulations as quoted on club pages: 12 ft long, 12 in wide, 24 in high, 42 in zones, 3 lb.
test('AKC lengths are whole inches', () => {
  const { lengthM, widthM, pivotHeightM, contactM } = usualBoard(ruleSetOf('akc')!)
  expect([lengthM, widthM, pivotHeightM, contactM].map((m) => shownIn(lengthUnit('imperial'), m))).toEqual([
    '144 in',
    '12 in',
    '24 in',
    '42 in',
  ])
  expect(ruleSetOf('akc')!.drop!.says.massKg).toBeCloseTo(1.36, 2)
})

test.each(RULE_SETS)('$name: its usual board is one that the library takes, within its own limits', (rules) => {
  const shape = usualBoard(rules)
  expect(boardInput.safeParse({ name: 'x', shape, note: '' }).success).toBe(true)
  for (const { says } of buildFigures(rules)) {
    const { minM, maxM, usualM } = says
    expect(usualM).toBeGreaterThanOrEqual(minM ?? 0)
    expect(usualM).toBeLessThanOrEqual(maxM ?? Infinity)
  }
})

test('figures that are not from a rule book itself say so', () => {
  for (const rules of RULE_SETS) {
    expect(buildSourceInWords(rules).endsWith('Check your own rule book.')).toBe(rules.key !== 'uk')
  }
  expect(sourceInWords(ruleSetOf('uk-old')!.drop!.source)).toContain('common practice')
  expect(sourceInWords(ruleSetOf('usdaa')!.dog!.zones.source)).toContain('from memory')
})

test('a drop rule in words', () => {
  const { where } = ruleSetOf('akc')!.drop!.says
  expect([dropPlaceInWords(where), dropPlaceInWords(where, 'imperial')]).toEqual([
    '0.30 m from the raised end',
    '12.0 in from the raised end',
  ])
  expect(['uk', 'fci', 'akc'].map((key) => dropTimeInWords(ruleSetOf(key)!.drop!.says))).toEqual([
    '2 to 3 s after placing the weight',
    '2 to 3 s',
    'under 3 s',
  ])
})

test('a key that is none is no rule set', () => {
  expect([ruleSetOf('none'), ruleSetOf(null)]).toEqual([null, null])
})

import { describe, expect, test } from 'vitest'
import { byTheRules } from '../../../analysis/rules/by-the-rules.ts'
import { checkBuild } from '../../../analysis/rules/build-check.ts'
import { OWN_KEY, ownFrom, ownRuleSet, ownRulesFault, ruleSetAmong } from '../../../analysis/rules/own-rules.ts'
import { RULE_SETS, ruleSetOf, usualBoard } from '../../../analysis/rules/rule-sets.ts'
import { buildSourceInWords } from '../../../analysis/rules/rule-words.ts'
import { ownRules } from '../../../main/contract/settings.ts'
import { withheld } from '../../../analysis/estimate.ts'

const none = withheld('not-seen', 'Not seen.')
const touched = { verdict: 'touched', first: none, last: none, clearanceM: none } as const
const zones = { up: touched, down: { ...touched, touchedAfterGround: 'yes' } } as const

describe.each(RULE_SETS.map((rules) => [rules.key, rules] as const))('a copy of %s', (_key, rules) => {
  const own = ownFrom(rules, 'Our club')

  test('can be kept, and asks the same of boards and drops', () => {
    expect(ownRules.parse(own)).toEqual(own)
    const copy = ownRuleSet(own)
    expect(copy.drop?.says).toEqual(rules.drop?.says)
    const outcomes = (of: Parameters<typeof checkBuild>[1]) =>
      checkBuild({ ...usualBoard(rules), lengthM: 3.5 }, of)
        .filter(({ outcome, part }) => outcome !== 'no-limit' && part !== 'axisBelowTopM')
        .map(({ part, outcome, outsideByM }) => ({ part, outcome, outsideByM }))
    expect(outcomes(copy)).toEqual(outcomes(rules))
  })

  test('says that its figures are the handler’s own', () => {
    expect(buildSourceInWords(ownRuleSet(own))).toBe('your own figures.')
  })
})

test('a refusal before the tip is one where the handler says so, and left to the rule book where not', () => {
  const ride = { zones, leaving: { verdict: 'before-tip' } } as const
  const own = ownFrom(ruleSetOf('uk')!, 'Our club')
  const outcomeOf = (refusalBeforeTip: boolean) =>
    byTheRules(ownRuleSet({ ...own, refusalBeforeTip }), ride).findings.at(-1)!.outcome
  expect([outcomeOf(true), outcomeOf(false)]).toEqual(['broken', 'unclear'])
})

test('a board starts inside the handler’s own bounds', () => {
  const own = { ...ownFrom(ruleSetOf('uk')!, 'Our club'), lengthM: { minM: 3.7, maxM: null } }
  expect(usualBoard(ownRuleSet(own)).lengthM).toBe(3.7)
  expect(usualBoard(ownRuleSet({ ...own, lengthM: { minM: 3, maxM: 3.2 } })).lengthM).toBeCloseTo(3.1)
})

test('bounds the wrong way round are told, and not kept', () => {
  const own = { ...ownFrom(ruleSetOf('uk')!, 'Our club'), widthM: { minM: 0.32, maxM: 0.28 } }
  expect(ownRulesFault(own)).toContain('Width')
  expect(ownRules.safeParse(own).success).toBe(false)
  const drop = { ...ruleSetOf('uk')!.drop!.says, leastS: 3, mostS: 3 }
  expect(ownRulesFault({ ...own, widthM: { minM: null, maxM: 0.3 }, drop })).toContain('Drop test')
})

test('the own set is among all only once it was entered', () => {
  const own = ownFrom(ruleSetOf('fci')!, 'Our club')
  expect(ruleSetAmong(OWN_KEY, null)).toBeNull()
  expect(ruleSetAmong(OWN_KEY, own)?.name).toBe('Our club')
  expect(ruleSetAmong('fci', own)?.name).toBe('FCI')
})

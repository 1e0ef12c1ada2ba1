import { expect, test } from 'vitest'
import { byTheRules } from '../../../analysis/rules/by-the-rules.ts'
import { RULE_SETS, type RuleSetKey, ruleSetOf } from '../../../analysis/rules/rule-sets.ts'
import type { LeavingVerdict, ZoneVerdict } from '../../../analysis/ride/ride.ts'
import { withheld } from '../../../analysis/estimate.ts'

const none = withheld('not-seen', 'Not seen.')
const zone = (verdict: ZoneVerdict) => ({ verdict, first: none, last: none, clearanceM: none })

function ride(up: ZoneVerdict, down: ZoneVerdict, leaving: LeavingVerdict, after: 'yes' | 'no' | 'unsure' = 'yes') {
  return { zones: { up: zone(up), down: { ...zone(down), touchedAfterGround: after } }, leaving: { verdict: leaving } }
}

const reading = (book: RuleSetKey, of: ReturnType<typeof ride>) => byTheRules(ruleSetOf(book)!, of)
const outcomes = (book: RuleSetKey, of: ReturnType<typeof ride>) =>
  reading(book, of).findings.map(({ outcome }) => outcome)

const KEYS = RULE_SETS.map(({ key }) => key)

test.each(KEYS)('%s: both zones touched and left after the landing keeps every rule', (book) => {
  expect(outcomes(book, ride('touched', 'touched', 'after-ground'))).toEqual(['kept', 'kept', 'kept'])
})

// USDAA training page: leaving after the tilt has begun and before ground is the fly-off penalty, before the tilt a refusal.
test('USDAA calls leaving before the landing the fly-off penalty, leaving before the tilt a refusal', () => {
  expect(reading('usdaa', ride('touched', 'touched', 'before-ground')).findings[2]!.sentence).toContain('fly-off')
  expect(reading('usdaa', ride('touched', 'missed', 'before-tip')).findings[2]!.sentence).toContain('refusal')
})

// FCI, national club summaries of 2024: leaving before all paws have passed the axis is a refusal; the up contact is rarely called.
test('FCI: leaving before the tip is a refusal, a missed up contact is rarely called', () => {
  expect(reading('fci', ride('touched', 'missed', 'before-tip')).findings[2]!.sentence).toContain('refusal')
  expect(reading('fci', ride('missed', 'touched', 'after-ground')).findings[0]!.sentence).toContain(
    'Judges rarely call it',
  )
})

// AKC regulations as quoted on club pages: a paw in the down zone after the board has hit the ground.
test('AKC: a down contact that was touched only before the landing does not count', () => {
  expect(outcomes('akc', ride('touched', 'touched', 'after-ground', 'no'))[1]).toBe('broken')
  expect(outcomes('uk', ride('touched', 'touched', 'after-ground', 'no'))[1]).toBe('kept')
  expect(outcomes('akc', ride('touched', 'unsure', 'after-ground', 'unsure'))[1]).toBe('unclear')
})

test('what the ride does not tell is unclear, never broken', () => {
  for (const book of KEYS) {
    expect(outcomes(book, ride('unsure', 'unsure', 'too-close', 'unsure'))).toEqual(['unclear', 'unclear', 'unclear'])
    expect(outcomes(book, ride('unsure', 'unsure', 'not-seen', 'unsure'))[2]).toBe('unclear')
  }
})

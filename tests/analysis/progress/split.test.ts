import { expect, test } from 'vitest'
import { measured, type Estimate } from '../../../analysis/estimate.ts'
import { attentionOf } from '../../../analysis/progress/attention.ts'
import type { SeasonRide } from '../../../analysis/progress/season.ts'
import { groupOf, splitsOf } from '../../../analysis/progress/split.ts'

/** Days on which the rides of a test took place; every ride on a day of its own unless told otherwise. */
function rideOf(index: number, more: Partial<SeasonRide> = {}): SeasonRide {
  return {
    index,
    day: 20_000 + index,
    board: null,
    purpose: null,
    surface: null,
    byHand: false,
    events: {},
    measures: {},
    upZone: null,
    downZone: null,
    downAfterGround: null,
    leaving: null,
    ...more,
  }
}

/** Student's t of 9 degrees of freedom at 97.5 %, as printed in any table (Student, Biometrika 1908). */
const T9 = 2.262

test('the usual value of rides on days of their own is their mean, with Student’s interval', () => {
  // Michelson's first ten speeds of light of 1879 (km/s less 299,000), as in the R data set `morley`, from memory.
  const speeds = [850, 740, 900, 1070, 930, 850, 950, 980, 980, 880]
  const mean = speeds.reduce((sum, one) => sum + one, 0) / speeds.length
  const sd = Math.sqrt(speeds.reduce((sum, one) => sum + (one - mean) ** 2, 0) / (speeds.length - 1))
  const rides = speeds.map((speed, k) => rideOf(k, { measures: { dropTimeS: measured(speed / 1000, 1e-6) } }))
  const [level] = groupOf('all', { rides, criterion: null }).levels
  const { value, ci95 } = level!.level as Extract<Estimate, { kind: 'measured' }>
  // Wild values are pulled in, and days may share something: a little narrower or wider is no fault.
  expect(value * 1000).toBeCloseTo(mean, -1.3)
  const half = (T9 * sd) / Math.sqrt(speeds.length)
  expect((ci95[1] - ci95[0]) / 2 / (half / 1000)).toBeGreaterThan(0.8)
  expect((ci95[1] - ci95[0]) / 2 / (half / 1000)).toBeLessThan(1.4)
})

test('rides are told apart by what boards are made of, and a split with one group is none', () => {
  const rides = Array.from({ length: 8 }, (_, k) =>
    rideOf(k, {
      board: k % 2 === 0 ? 'Old' : 'New',
      surface: 'grass',
      measures: { dropTimeS: measured(k % 2 === 0 ? 0.8 : 0.5, 0.01) },
    }),
  )
  const splits = splitsOf({ dog: 'Moss', criterion: null, rides }, (board) => ({
    material: board === 'Old' ? 'wood' : 'aluminium',
    feelS: board === 'Old' ? 0.74 : 0.58,
  }))
  expect(splits.map(({ by, groups }) => [by, groups.map(({ name }) => name)])).toEqual([
    ['board', ['New', 'Old']],
    ['material', ['aluminium', 'wood']],
    ['feel', ['0.5 to 0.6 s', '0.7 to 0.8 s']],
  ])
  const level = (name: string) => splits[1]!.groups.find((group) => group.name === name)!.levels[0]!.level
  expect(level('wood')).toMatchObject({ kind: 'measured' })
  expect((level('wood') as { value: number }).value).toBeCloseTo(0.8, 2)
})

test('rides by hand are in no group, and two rides are too few for a usual value', () => {
  const rides = [0, 1, 2].map((k) => rideOf(k, { byHand: k === 2, measures: { dropTimeS: measured(0.5, 0.01) } }))
  const group = groupOf('all', { rides, criterion: null })
  expect(group.rides).toBe(2)
  expect(group.levels[0]).toMatchObject({ rides: 2, level: { kind: 'withheld', reason: 'too-few' } })
})

test('who needs attention goes by evidence: three of three may be, ten of twenty is sure', () => {
  const early = (count: number, of: number) =>
    Array.from({ length: of }, (_, k) => rideOf(k, { leaving: k < count ? 'before-ground' : 'after-ground' }))
  const seasons = [
    { dog: 'Loud', criterion: null, rides: early(3, 3) },
    { dog: 'Often', criterion: null, rides: early(10, 20) },
    { dog: 'Never', criterion: null, rides: early(0, 20) },
    { dog: 'New', criterion: null, rides: early(0, 2) },
  ]
  const order = attentionOf(seasons)
  expect(order.map(({ dog, need }) => [dog, need])).toEqual([
    ['Often', 'look'],
    ['Loud', 'may-be'],
    ['Never', 'fine'],
    ['New', 'too-few'],
  ])
  expect(order[0]!.reasons.join(' ')).toContain('10 of 20 rides')
})

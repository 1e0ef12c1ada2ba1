import { expect, test } from 'vitest'
import { findChange } from '../../../analysis/progress/change.ts'
import type { SeasonRide } from '../../../analysis/progress/season.ts'
import { seriesOf } from '../../../analysis/progress/series.ts'
import { checkShow } from '../../../analysis/progress/show-check.ts'
import { trendOf } from '../../../analysis/progress/trend.ts'
import { ruleSetOf } from '../../../analysis/rules/rule-sets.ts'
import { waitsOrCounts } from '../../../analysis/progress/waits-or-counts.ts'
import type { InventedDog } from '../../../sample-clips/season/invented-dog.ts'
import { BOARDS, inventedSeason, PLAIN_DOG, type Plan } from './invented-season.ts'

/** A small version of `npm run bench:progress`: limits leave room for chance (binomial, below 1 in 1000). */
const DOGS = 40
const season: Plan = { rides: 30, spanDays: 150 }

function count(dog: InventedDog, plan: Plan, holds: (rides: readonly SeasonRide[]) => boolean): number {
  return Array.from({ length: DOGS }, (_, seed) => holds(inventedSeason(seed, dog, plan))).filter(Boolean).length
}

function slopeCovers(perMonthS: number) {
  return (rides: readonly SeasonRide[]) => {
    const line = trendOf(seriesOf('holdBeforeGroundS', rides))
    return line.kind === 'line' && line.perMonth.ci95[0] <= perMonthS && perMonthS <= line.perMonth.ci95[1]
  }
}

test('intervals of a trend hold the truth, with and without one, and when the board was changed half way', () => {
  expect(count(PLAIN_DOG, season, slopeCovers(0))).toBeGreaterThanOrEqual(33)
  expect(count({ ...PLAIN_DOG, holdPerMonthS: 0.05 }, season, slopeCovers(0.05))).toBeGreaterThanOrEqual(33)
  const switched: Plan = { ...season, boardOn: (day) => (day < 75 ? BOARDS[0]! : BOARDS[3]!) }
  const margin = (rides: readonly SeasonRide[]) => {
    const line = trendOf(seriesOf('leavingMarginS', rides))
    return line.kind === 'line' && line.p > 0.05
  }
  expect(count({ ...PLAIN_DOG, slope: 0.2 }, switched, margin)).toBeGreaterThanOrEqual(33)
})

test('a change is seldom found where there is none, and mostly where there is a large one', () => {
  const found = (rides: readonly SeasonRide[]) => {
    const series = seriesOf('holdBeforeGroundS', rides)
    const line = trendOf(series)
    const search = line.kind === 'line' ? findChange(series, line.tamed) : null
    return search !== null && search.p < 0.01
  }
  expect(count(PLAIN_DOG, season, found)).toBeLessThanOrEqual(3)
  const taught = { ...PLAIN_DOG, change: { day: 70, holdS: 0.3, marginS: 0 } }
  expect(count(taught, season, found)).toBeGreaterThanOrEqual(20)
})

test.each([
  [1, 'waits', 'counts'],
  [0, 'counts', 'waits'],
] as const)('a dog of slope %d is told to be one that %s, never one that %s', (slope, right, wrong) => {
  const dog = { ...PLAIN_DOG, slope, scatterS: 0.06 }
  const verdicts = Array.from({ length: 20 }, (_, seed) => waitsOrCounts(inventedSeason(seed, dog, season)).verdict)
  expect(verdicts.filter((verdict) => verdict === right).length).toBeGreaterThanOrEqual(12)
  expect(verdicts).not.toContain(wrong)
})

test('boards that fall alike cannot tell waiting from counting', () => {
  const alike: Plan = { ...season, boardOn: () => ({ ...BOARDS[1]!, fallScatterS: 0.005 }) }
  expect(waitsOrCounts(inventedSeason(1, PLAIN_DOG, alike)).verdict).toBe('too-few')
})

test('a show check tells a dog that waits from one that leaves early, and says nothing on four rides', () => {
  const check = (dog: InventedDog, rides: number) =>
    checkShow(inventedSeason(5, dog, { ...season, rides }), { board: null, fallS: 0.7, rules: ruleSetOf('uk')! })
  const waits = { ...PLAIN_DOG, marginS: 0.4, missedDownShare: 0 }
  expect(check(waits, 40).verdict).toBe('likely-fine')
  expect(check({ ...waits, marginS: 0.02 }, 40).verdict).toBe('at-risk')
  expect(check(waits, 4)).toMatchObject({
    verdict: 'cannot-tell',
    earlyChance: { kind: 'withheld', reason: 'too-few' },
  })
})

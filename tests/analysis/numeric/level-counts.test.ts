import { expect, test } from 'vitest'
import { groupOf, LevelCounts } from '../../../analysis/numeric/level-counts.ts'
import { seededRandom } from '../../../analysis/numeric/random.ts'
import { quantile } from '../../../analysis/numeric/robust.ts'

const counted = (levels: readonly number[]): LevelCounts => {
  const counts = new LevelCounts()
  for (const level of levels) counts.add(groupOf(level))
  return counts
}

test('quantiles by counting are those by sorting, to half a grey level', () => {
  const random = seededRandom(3)
  const levels = Array.from({ length: 400 }, () => Math.min(255, Math.max(0, 90 + 12 * random.normal())))
  for (const share of [0.25, 0.5, 0.75]) {
    expect(Math.abs(counted(levels).quantile(share) - quantile(levels, share))).toBeLessThan(0.5)
  }
})

test('a single level is its own median, also the darkest and the brightest', () => {
  for (const level of [0.25, 100.25, 254.75]) expect(counted([level]).quantile(0.5)).toBe(level)
})

test('a level brighter than 255 counts as the brightest', () => {
  expect(counted([300]).quantile(0.5)).toBe(255.75)
})

test('after clearing, nothing of the set before is left', () => {
  const counts = counted([10, 250, 130])
  counts.clear()
  expect(counts.count).toBe(0)
  counts.add(groupOf(40.25))
  expect(counts.quantile(0.25)).toBeCloseTo(40.125, 12)
})

import { describe, expect, test } from 'vitest'
import { reportOf } from '../../../analysis/progress/dog-report.ts'
import { dogOfRides, parseRides } from '../../../main/outputs/progress/rides-file.ts'
import { demoSeason } from '../../../sample-clips/season/demo-season.ts'
import { inventedSeason, PLAIN_DOG } from './invented-season.ts'

const demo = parseRides(demoSeason(), 'demo')

function demoReport(name: string) {
  const dog = demo.ok ? dogOfRides(demo.value, name) : demo
  if (!dog.ok) throw new Error(dog.message)
  return reportOf(dog.value.season)
}

const shortReport = (rides: number) =>
  reportOf({ dog: 'Wisp', criterion: null, rides: inventedSeason(2, PLAIN_DOG, { rides, spanDays: 60 }) })

describe('the invented season', () => {
  test('the dog that was taught to hold in June holds longer since then', () => {
    const hold = demoReport('Dottie').trends.find(({ measure }) => measure === 'holdBeforeGroundS')
    expect(hold?.change).not.toBeNull()
    // The change is on day 104 after 2 March: 14 June.
    expect(hold!.change!.ci95[0] <= '2026-06-14' && '2026-06-14' <= hold!.change!.ci95[1]).toBe(true)
    expect(hold!.change!.after.value - hold!.change!.before.value).toBeGreaterThan(0.1)
  })

  test('the dog that counts is found out', () => {
    const report = demoReport('Kestrel')
    expect(report.waitsOrCounts.verdict).toBe('counts')
    expect(report.sentences.map(({ text }) => text).join(' ')).toContain('by its own clock')
  })

  test('of the dog to which nothing happens no change is told', () => {
    const report = demoReport('Biscuit')
    expect(report.trends.filter(({ verdict }) => verdict === 'rising' || verdict === 'falling')).toEqual([])
    expect(report.trends.filter(({ change }) => change !== null)).toEqual([])
    expect(report.waitsOrCounts.verdict).toBe('waits')
  })
})

test('every sentence rests on rides of the list, and there are at most five', () => {
  for (const name of ['Dottie', 'Kestrel', 'Biscuit']) {
    const { sentences } = demoReport(name)
    expect(sentences.length).toBeLessThanOrEqual(5)
    for (const { restsOn } of sentences) {
      expect(restsOn.length).toBeGreaterThan(0)
      expect(Math.max(...restsOn)).toBeLessThan(20)
    }
  }
})

test('four rides are too few to call a trend, and that is all that is said', () => {
  const report = shortReport(4)
  expect(new Set(report.trends.map(({ verdict }) => verdict))).toEqual(new Set(['too-few']))
  expect(report.trends[0]?.perMonth).toMatchObject({ kind: 'withheld', reason: 'too-few' })
  expect(report.note).toBe('4 rides: too few to call a trend.')
  expect(report.waitsOrCounts.verdict).toBe('too-few')
})

test('a dog without rides has a report that asks for one', () => {
  const report = reportOf({ dog: 'Wisp', criterion: null, rides: [] })
  expect(report).toMatchObject({ rides: 0, trends: [], sentences: [], hints: [] })
  expect(report.note).toContain('film a ride')
})

test('rides entered by hand change no number but their own', () => {
  const rides = inventedSeason(3, PLAIN_DOG, { rides: 12, spanDays: 90 })
  const byHand = { ...rides[0]!, index: 12, byHand: true, leaving: 'before-ground' } as const
  const alone = reportOf({ dog: 'Wisp', criterion: null, rides })
  const mixed = reportOf({ dog: 'Wisp', criterion: null, rides: [...rides, byHand] })
  expect(mixed.trends).toEqual(alone.trends)
  expect(mixed.waitsOrCounts).toEqual(alone.waitsOrCounts)
  expect(mixed.rates[0]).toEqual({ ...alone.rates[0]!, byHand: { count: 1, of: 1 } })
})

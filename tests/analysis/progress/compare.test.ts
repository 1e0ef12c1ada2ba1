import { readFileSync } from 'node:fs'
import { Ajv } from 'ajv'
import { describe, expect, test } from 'vitest'
import { type Estimate, measured } from '../../../analysis/estimate.ts'
import { type ComparedSide, compareSides, rateDifference } from '../../../analysis/progress/compare.ts'
import { differenceInWords } from '../../../analysis/progress/compare-words.ts'
import { type Rate, wilson } from '../../../analysis/progress/rates.ts'
import type { SeasonRide } from '../../../analysis/progress/season.ts'
import { comparisonBytes } from '../../../main/outputs/progress/comparison-files.ts'
import { seededRandom } from '../../../analysis/numeric/random.ts'

function rideOf(index: number, day: number, holdS: number, more: Partial<SeasonRide> = {}): SeasonRide {
  return {
    index,
    day,
    board: 'Club board',
    purpose: null,
    surface: null,
    byHand: false,
    events: {},
    measures: { holdBeforeGroundS: measured(holdS, 0.02) },
    upZone: null,
    downZone: null,
    downAfterGround: null,
    leaving: null,
    ...more,
  }
}

const sideOf = (dog: string, rides: readonly SeasonRide[], name = dog): ComparedSide => ({
  dog,
  name,
  criterion: null,
  rides,
})
const rateOf = (count: number, of: number): Rate => ({
  what: 'early',
  count,
  of,
  ci95: wilson(count, of),
  undecided: 0,
  restsOn: [],
  byHand: null,
})
const measuredOf = (estimate: Estimate) => estimate as Extract<Estimate, { kind: 'measured' }>
const holdOf = (one: ComparedSide, other: ComparedSide) =>
  compareSides(one, other).measures.find(({ what }) => what === 'holdBeforeGroundS')!

describe('the difference of two shares', () => {
  // Newcombe, Stat Med 1998, 17:873, table II, method 10 without continuity correction; from memory.
  test.each([
    [56, 70, 48, 80, 0.2, 0.0524, 0.3339],
    [9, 10, 3, 10, 0.6, 0.1705, 0.809],
    [10, 10, 0, 10, 1, 0.6075, 1],
  ])('%i of %i against %i of %i has the published interval', (a, m, b, n, value, lo, hi) => {
    const { value: told, ci95 } = measuredOf(rateDifference(rateOf(b, n), rateOf(a, m)))
    expect(told).toBeCloseTo(value, 10)
    expect(ci95[0]).toBeCloseTo(lo, 4)
    expect(ci95[1]).toBeCloseTo(hi, 4)
  })

  test('is not told where one side has no ride that was decided', () => {
    expect(rateDifference(rateOf(0, 0), rateOf(1, 3)).kind).toBe('withheld')
  })
})

describe('two sides', () => {
  test('that differ by far are told apart, and the words say by how much', () => {
    const few = [0, 0.02, -0.02, 0.01, -0.01, 0.03, -0.03, 0]
    const one = sideOf(
      'Moss',
      few.map((more, k) => rideOf(k, 100 + k, 0.3 + more)),
    )
    const other = sideOf(
      'Wren',
      few.map((more, k) => rideOf(k, 100 + k, 0.8 + more)),
    )
    const hold = holdOf(one, other)
    expect(hold.verdict).toBe('more')
    expect(differenceInWords(hold)).toMatchObject({ value: '+0.50 s', verdict: 'more' })
    expect(holdOf(other, one).verdict).toBe('less')
    expect(compareSides(one, other).caution).toBeNull()
  })

  test('with the same rides on both leave nothing to compare', () => {
    const rides = Array.from({ length: 8 }, (_, k) => rideOf(k, 100 + k, 0.3))
    expect(holdOf(sideOf('Moss', rides), sideOf('Moss', rides.slice(2), 'Moss on Club board'))).toMatchObject({
      verdict: 'not-known',
      difference: { kind: 'withheld' },
    })
  })

  test('on different boards are told to be so', () => {
    const rides = Array.from({ length: 5 }, (_, k) => rideOf(k, 100 + k, 0.3))
    const elsewhere = rides.map((ride) => ({ ...ride, board: 'Field board' }))
    expect(compareSides(sideOf('Moss', rides), sideOf('Wren', elsewhere)).caution).toMatch(/different boards/)
  })

  test('with three rides and two are too few', () => {
    const rides = [0, 1, 2].map((k) => rideOf(k, 100 + k, 0.3))
    expect(holdOf(sideOf('Moss', rides), sideOf('Wren', rides.slice(1))).verdict).toBe('not-known')
  })
})

describe('over many invented pairs the 95 % interval holds the true difference', () => {
  interface Pair {
    readonly rides: readonly [number, number]
    readonly scatterS: readonly [number, number]
    readonly isOneDog: boolean
  }

  /** Two to three rides a day; what a day does is shared by all rides of it if they are one dog's. */
  function holdsTruth(seed: number, { rides, scatterS, isOneDog }: Pair): { holds: boolean; isClear: boolean } {
    const random = seededRandom(seed)
    const dayParts = new Map<string, number>()
    const trueDifference = 0
    let index = 0
    const side = (k: 0 | 1): SeasonRide[] =>
      Array.from({ length: rides[k] }, (_, ride) => {
        const day = Math.floor(ride / 2.5)
        const key = isOneDog ? String(day) : `${k} ${day}`
        const dayPart = dayParts.get(key) ?? 0.08 * random.normal()
        dayParts.set(key, dayPart)
        const holdS = 0.5 + dayPart + scatterS[k] * random.normal() + 0.02 * random.normal()
        return rideOf(index++, 100 + 7 * day, holdS)
      })
    const [one, other] = [side(0), side(1)]
    const names = isOneDog ? ['Moss', 'Moss'] : ['Moss', 'Wren']
    const { difference, verdict } = holdOf(sideOf(names[0]!, one, 'one'), sideOf(names[1]!, other, 'other'))
    const [lo, hi] = measuredOf(difference).ci95
    return { holds: lo <= trueDifference && trueDifference <= hi, isClear: verdict !== 'too-close' }
  }

  test.each<[string, Pair]>([
    ['two dogs', { rides: [12, 12], scatterS: [0.1, 0.1], isOneDog: false }],
    ['two dogs, one of which rides evenly and seldom', { rides: [6, 20], scatterS: [0.15, 0.05], isOneDog: false }],
    ['one dog on two boards on the same days', { rides: [10, 10], scatterS: [0.1, 0.1], isOneDog: true }],
  ])('%s', (_, pair) => {
    const trials = Array.from({ length: 200 }, (__, seed) => holdsTruth(seed + 1, pair))
    const held = trials.filter(({ holds }) => holds).length
    // 200 trials: below 90 % is less than 1 in 1000 for a true 95 %.
    expect(held).toBeGreaterThanOrEqual(180)
    expect(trials.filter(({ isClear }) => isClear).length).toBe(200 - held)
  })

  test('and is not so wide that nothing is ever seen', () => {
    const widths = Array.from({ length: 40 }, (_, seed) => {
      const random = seededRandom(seed + 900)
      const side = (level: number): SeasonRide[] =>
        Array.from({ length: 15 }, (__, k) => rideOf(k, 100 + k, level + 0.1 * random.normal()))
      return holdOf(sideOf('Moss', side(0.4)), sideOf('Wren', side(0.6))).verdict
    })
    expect(widths.filter((verdict) => verdict === 'more').length).toBeGreaterThan(36)
  })
})

test('the files of a comparison tell the same numbers, as its published schema says', async () => {
  const rides = (level: number) =>
    Array.from({ length: 9 }, (_, k) =>
      rideOf(k, 100 + k, level + 0.01 * (k % 3), { leaving: k === 0 ? 'before-ground' : 'after-ground' }),
    )
  const comparison = compareSides(sideOf('Moss', rides(0.4)), sideOf('=Wren', rides(0.6)))
  const text = async (format: 'json' | 'csv' | 'html') =>
    new TextDecoder().decode(await comparisonBytes(comparison, format))
  const file = new URL('../../../main/files/compare.schema.json', import.meta.url)
  const isValid = new Ajv({ strict: false }).compile(JSON.parse(readFileSync(file, 'utf8')) as object)
  const json = JSON.parse(await text('json')) as typeof comparison
  expect(isValid(json)).toBe(true)
  const hold = json.measures.find(({ what }) => what === 'holdBeforeGroundS')!
  const [lo, hi] = measuredOf(hold.difference).ci95
  const line = (await text('csv')).split('\r\n').find((one) => one.startsWith('Hold before the landing'))!
  expect(line.split(',').slice(-4)).toEqual([
    String(Number(measuredOf(hold.difference).value.toFixed(5))),
    String(Number(lo.toFixed(5))),
    String(Number(hi.toFixed(5))),
    'more',
  ])
  expect((await text('csv')).split('\r\n')[0]).toContain(`'=Wren`)
  expect(await text('html')).toContain(differenceInWords(hold).interval)
  expect((await comparisonBytes(comparison, 'pdf')).length).toBeGreaterThan(1000)
})

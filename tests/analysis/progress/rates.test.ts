import { describe, expect, test } from 'vitest'
import { ratesOf, wilson } from '../../../analysis/progress/rates.ts'
import type { SeasonRide } from '../../../analysis/progress/season.ts'

const blank: SeasonRide = {
  index: 0,
  day: null,
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
}
const rides = (...parts: readonly Partial<SeasonRide>[]) => parts.map((part, index) => ({ ...blank, ...part, index }))

describe('Wilson’s interval', () => {
  // Newcombe, Statistics in Medicine 1998, 17:857, table I, method 3 (from memory).
  test.each([
    [81, 263, 0.2553, 0.3662],
    [15, 148, 0.0624, 0.1605],
    [0, 20, 0, 0.1611],
    [1, 29, 0.0061, 0.1718],
  ])('of %i in %i is as published', (count, of, lo, hi) => {
    expect(wilson(count, of)[0]).toBeCloseTo(lo, 4)
    expect(wilson(count, of)[1]).toBeCloseTo(hi, 4)
  })
})

describe('rates', () => {
  test('rides too close to call are in neither number, and widen the interval both ways', () => {
    const decided = rides({ leaving: 'before-ground' }, { leaving: 'before-tip' }, { leaving: 'after-ground' })
    const open = rides({ leaving: 'too-close' }, { leaving: 'not-seen' })
    const [early] = ratesOf({ rides: [...decided, ...open], criterion: null })
    expect(early).toMatchObject({ what: 'early', count: 2, of: 3, undecided: 1 })
    expect(early!.ci95[0]).toBeLessThan(wilson(2, 3)[0])
    expect(early!.ci95[1]).toBeGreaterThanOrEqual(wilson(3, 4)[1])
  })

  test('rides entered by hand stand apart', () => {
    const [early] = ratesOf({
      rides: rides({ leaving: 'after-ground' }, { leaving: 'before-ground', byHand: true }),
      criterion: null,
    })
    expect(early).toMatchObject({ count: 0, of: 1, byHand: { count: 1, of: 1 } })
  })

  test('a rate of which no ride tells is left out', () => {
    expect(ratesOf({ rides: rides({}), criterion: null })).toEqual([])
  })

  test('a criterion is met by a touch and a hold that is long enough, and open where the clip ends too early', () => {
    const margin = (value: number) =>
      ({ leavingMarginS: { kind: 'measured', value, sd: 0.01, ci95: [value - 0.02, value + 0.02] } }) as const
    const touched = { downZone: 'touched', leaving: 'after-ground' } as const
    const [, , criterion] = ratesOf({
      criterion: { position: '2o2o', holdAfterGroundS: 0.5 },
      rides: rides(
        { ...touched, measures: margin(0.7) },
        { ...touched, measures: margin(0.3) },
        { ...touched, measures: { leavingMarginS: { kind: 'atLeast', value: 0.2 } } },
        { ...touched, downZone: 'missed', measures: margin(0.9) },
      ),
    })
    expect(criterion).toMatchObject({ what: 'criterion-met', count: 1, of: 3, undecided: 1 })
  })
})

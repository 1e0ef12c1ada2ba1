import { describe, expect, test } from 'vitest'
import { joinMotions, motionFrom, moveMotion, readPlace, unknownMotion } from '../../../analysis/ride/motion-filter.ts'

const reach = { place: 1, speed: 2, acceleration: 3 }

describe('moving a motion', () => {
  test('without jerk is the free motion of school books, forth and back', () => {
    const start = motionFrom(1, 2, 3, 0, 0, 0)
    const later = moveMotion(start, 0.5, 0)
    expect(later.x).toBeCloseTo(1 + 2 * 0.5 + (3 * 0.5 ** 2) / 2, 12)
    expect(later.v).toBeCloseTo(3.5, 12)
    expect(moveMotion(later, -0.5, 0).x).toBeCloseTo(1, 12)
  })

  test('with jerk widens its place by density t^5 / 20', () => {
    expect(moveMotion(motionFrom(0, 0, 0, 0, 0, 0), 2, 10).xx).toBeCloseTo((10 * 2 ** 5) / 20, 12)
  })
})

describe('reading a place', () => {
  test('weighs what was known and what was read by their variances', () => {
    const { state } = readPlace(motionFrom(0, 0, 0, 1, 0, 0), 4, 3, { share: 0, range: 1 })
    expect(state.x).toBeCloseTo(1, 12)
    expect(state.xx).toBeCloseTo(0.75, 12)
  })

  test('takes a wild reading for an outlier where there may be some', () => {
    const { state, logDensity } = readPlace(motionFrom(0, 0, 0, 1, 0, 0), 100, 1, { share: 0.01, range: 0.5 })
    expect(state.x).toBeCloseTo(0, 12)
    expect(logDensity).toBeCloseTo(Math.log(0.02), 12)
  })

  test('counts even the wildest reading where there are none, and stays a number', () => {
    const { state, logDensity } = readPlace(motionFrom(0, 0, 0, 1, 0, 0), 1e4, 1, { share: 0, range: 1 })
    expect(state.x).toBeCloseTo(5e3, 8)
    expect(logDensity).toBeCloseTo(-(1e8 / 4) - 0.5 * Math.log(4 * Math.PI), 3)
  })
})

test('joining with an opinion that knows next to nothing changes next to nothing', () => {
  const known = motionFrom(0.3, 0.2, 0.1, 1e-4, 1e-4, 1e-4)
  const wide = unknownMotion(0, { ...reach, place: 1e4, speed: 1e4, acceleration: 1e4 })
  const joined = joinMotions(known, wide)
  expect(joined.x).toBeCloseTo(0.3, 6)
  expect(joined.vv).toBeCloseTo(1e-4, 8)
})

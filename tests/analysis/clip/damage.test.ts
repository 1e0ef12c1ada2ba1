import { describe, expect, test } from 'vitest'
import { damagedSpans, isNearDamage } from '../../../analysis/clip/damage.ts'

const steadyS = Float64Array.from({ length: 100 }, (_, i) => i / 25)
const none = new Uint8Array(100)

describe('damaged spans', () => {
  test('reach from the last sound frame to the next one, and join where they meet', () => {
    const isDamaged = none.slice()
    isDamaged.fill(1, 10, 15)
    isDamaged[15 + 1] = 1
    expect(damagedSpans(steadyS, isDamaged)).toEqual([{ fromS: 9 / 25, toS: 17 / 25 }])
  })

  test('are none in a sound clip, whatever its rate', () => {
    for (const rateHz of [1, 10, 240]) {
      expect(
        damagedSpans(
          steadyS.map((_, i) => i / rateHz),
          none,
        ),
      ).toEqual([])
    }
  })

  test('are none in a clip of uneven frame rate, with pauses of up to five usual steps', () => {
    let atS = 0
    const unevenS = steadyS.map((_, i) => (atS += 0.033 * (1 + (i % 5))))
    expect(damagedSpans(unevenS, none)).toEqual([])
  })

  test('are where pictures are missing for longer', () => {
    const gapS = steadyS.map((timeS) => (timeS > 2 ? timeS + 0.5 : timeS))
    expect(damagedSpans(gapS, none)).toEqual([{ fromS: 2, toS: 2.54 }])
  })

  test('end with the track when damage lasts to its end', () => {
    expect(damagedSpans(steadyS, none.slice().fill(1, 90))).toEqual([{ fromS: 89 / 25, toS: 99 / 25 }])
  })
})

test('near damage is within the margin on either side', () => {
  const spans = [{ fromS: 1, toS: 2 }]
  expect([0.7, 0.9, 1.5, 2.1, 2.3].map((atS) => isNearDamage(spans, atS, 0.2))).toEqual([
    false,
    true,
    true,
    true,
    false,
  ])
  expect(isNearDamage(undefined, 1.5, 0.2)).toBe(false)
})

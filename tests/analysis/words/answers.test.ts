import { describe, expect, test } from 'vitest'
import { measured, withheld } from '../../../analysis/estimate.ts'
import type { Ride, RideMeasures } from '../../../analysis/ride/ride.ts'
import { answersOf, answerText } from '../../../analysis/words/answers.ts'
import { bailOff, sampleRide } from '../../main/outputs/report/sample-ride.ts'

const texts = (ride: Ride) => answersOf(ride, 3.66).map(answerText)
const withMeasures = (measures: Partial<RideMeasures>, rest: Partial<Ride> = {}): Ride => ({
  ...sampleRide,
  ...rest,
  measures: { ...sampleRide.measures, ...measures },
})

describe('the answers of a ride', () => {
  test('say whether it stayed, whether it held and where it tipped, with the 95 % interval as a margin', () => {
    expect(texts(sampleRide)).toEqual([
      'The dog stayed on for 1.00 s ± 0.03 after the landing.',
      'The dog held still for 0.50 s ± 0.03 before the board landed.',
      'The board began to tip with the lead paw 0.87 m ± 0.03 past the pivot. ' +
        'The body centre was 0.37 m ± 0.06 past the pivot.',
    ])
  })

  test('tell a place before the pivot as before it, without a minus sign', () => {
    const ride = withMeasures({ leadPawAtTipM: measured(1.63, 0.02), bodyAtTipM: withheld('hidden', 'Hidden.') })
    expect(texts(ride).at(-1)).toBe('The board began to tip with the lead paw 0.20 m ± 0.04 before the pivot.')
  })

  test('put the reason where a withheld number would stand', () => {
    const detail = 'The handler stood before the dog: film from the other side.'
    const ride = withMeasures({ leadPawAtTipM: withheld('hidden', detail) })
    expect(texts(ride).at(-1)).toBe(`Where the lead paw was when the board began to tip was not measured. ${detail}`)
  })

  test('never call a dog that did not stop holding', () => {
    const ride = withMeasures({ holdBeforeGroundS: measured(0.03, 0.015) })
    expect(texts(ride)[1]).toBe(
      'As the board landed, the dog was still on the move. It had held still for 0.03 s ± 0.03.',
    )
  })

  test('say by how much a dog left before the landing', () => {
    const before = withheld('left-before', 'The dog left before the board landed.')
    const ride = withMeasures(
      { leavingMarginS: measured(-0.44, 0.02), holdBeforeGroundS: before, stayAfterGroundS: before },
      { leaving: { verdict: 'before-ground' } },
    )
    expect(texts(ride).slice(0, -1)).toEqual(['The dog left 0.44 s ± 0.04 before the board landed.'])
  })

  test('do not decide what the interval leaves open', () => {
    const ride = withMeasures({ leavingMarginS: measured(0.01, 0.02) }, { leaving: { verdict: 'too-close' } })
    expect(texts(ride)[0]).toBe(
      'Whether the dog left before or after the landing is too close to call. ' +
        'It left between 0.03 s before and 0.05 s after the landing.',
    )
  })

  test('give a stay that the clip cuts short from below', () => {
    const ride = withMeasures({ stayAfterGroundS: { kind: 'atLeast', value: 1.2 } })
    expect(texts(ride)[0]).toBe(
      'The dog stayed on for at least 1.20 s after the landing. It was still on the board when the clip ended.',
    )
  })

  test('tell of a bail-off in one answer, with how far the dog came', () => {
    expect(texts(bailOff)).toEqual([
      'The dog left before the board began to tip. ' +
        'It was on the plank for 0.90 s. Its foremost step was 1.53 m before the pivot.',
    ])
  })
})

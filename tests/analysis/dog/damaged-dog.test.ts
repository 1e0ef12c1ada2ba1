import { describe, expect, test } from 'vitest'
import { withoutDamagedParts } from '../../../analysis/dog/damaged-dog.ts'
import { measured } from '../../../analysis/estimate.ts'
import { settledAt } from '../../../analysis/ride/ride-events.ts'
import { judgeZones } from '../../../analysis/ride/verdicts.ts'
import { footfall, walkingDog } from '../ride/simulated-dog.ts'

/** On at 1 s, stands from about 3.1 s, leaves at 5 s. */
const dog = walkingDog()
const board = { lengthM: 3.6, contactM: 0.9 }

describe('a dog in a clip with damaged pictures', () => {
  test('is as it was when nothing is damaged', () => {
    expect(withoutDamagedParts(dog, [])).toBe(dog)
  })

  test('is not seen to leave where it may have stayed on in damaged pictures, nor to come', () => {
    const left = withoutDamagedParts(dog, [{ fromS: 5.1, toS: 6 }])
    expect(left.lastOff).toMatchObject({ kind: 'not-seen', reason: 'damaged' })
    expect(left.firstOn).toBe(dog.firstOn)
    // The pictures that would show the exit end are the damaged ones.
    const unseen = { kind: 'not-seen', reason: 'out-of-picture', detail: 'Film from further back.' } as const
    const hidden = withoutDamagedParts({ ...dog, lastOff: unseen }, [{ fromS: 4.9, toS: 6 }])
    expect(hidden.lastOff).toMatchObject({ kind: 'not-seen', reason: 'damaged' })
    const came = withoutDamagedParts(dog, [{ fromS: 0, toS: 0.9 }])
    expect(came.firstOn).toMatchObject({ kind: 'not-seen', reason: 'damaged' })
    expect(came.lastOff).toBe(dog.lastOff)
  })

  test('is not settled where its paw was lost in damage', () => {
    const grounded = measured(4, 0.01)
    const left = measured(5, 0.01)
    expect(settledAt(dog, grounded, left).kind).toBe('measured')
    const lost = withoutDamagedParts(dog, [{ fromS: 2, toS: 3.5 }])
    expect(settledAt(lost, grounded, left)).toMatchObject({ kind: 'withheld', reason: 'damaged' })
  })

  test('has not missed a zone that it may have touched in damaged pictures', () => {
    const footfalls = [footfall(1.2, 1, 4), footfall(1.6, 1.2, 4)]
    const leaps = walkingDog({ onS: 1, speedMps: 1.5, stopM: 1.6, leftS: 4, untilS: 6 }, { footfalls })
    const events = {
      ...{ firstOn: measured(1, 0.01), tipStart: measured(2, 0.01), grounded: measured(3, 0.01) },
      ...{ settled: measured(2.5, 0.01), left: measured(4, 0.01), bangHeard: measured(3, 0.01) },
    }
    const verdictOf = (one: typeof dog) => judgeZones(one, board, events).down.verdict
    expect(verdictOf(leaps)).toBe('missed')
    expect(verdictOf(withoutDamagedParts(leaps, [{ fromS: 2.4, toS: 3 }]))).toBe('unsure')
  })
})

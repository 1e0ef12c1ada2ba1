import { describe, expect, test } from 'vitest'
import { Z95, type Estimate } from '../../../analysis/estimate.ts'
import { seededRandom } from '../../../analysis/numeric/random.ts'
import { correctRide, momentSd } from '../../../analysis/ride/correct-ride.ts'
import {
  correctionCount,
  withAddedFootfall,
  withEvent,
  withFootfall,
  withMeasuredFootfall,
  withoutFootfall,
  withZone,
  type CorrectableEvent,
  type Corrections,
} from '../../../analysis/ride/corrections.ts'
import type { Ride } from '../../../analysis/ride/ride.ts'
import { NO_CORRECTIONS, rideCorrections } from '../../../main/contract/rides.ts'
import { wrenHoldParts as parts } from './wren-hold.ts'

const none: Corrections = NO_CORRECTIONS
const { measured } = parts
const frameS = 1 / 30

function corrected(corrections: Corrections): Ride {
  return correctRide(parts, corrections)
}

function valueOf(estimate: Estimate): number {
  if (estimate.kind === 'withheld') throw new Error(`withheld: ${estimate.detail}`)
  return estimate.value
}

/** A paw contact of the measured ride set to what it already is: recomputes everything and should change nothing. */
function setToItself(index: number): Corrections {
  const { alongM, fromS, toS, limb } = measured.footfalls[index]!
  return withFootfall(none, { kind: 'measured', index, isChanged: false }, { alongM, fromS, toS, limb })
}

describe('a ride that nobody corrected', () => {
  test('is the measured ride exactly', () => {
    expect(corrected(none)).toBe(measured)
  })

  test('comes out the same when all of it is computed anew', () => {
    // Striking out a footfall that does not exist goes the whole way without changing anything.
    const anew = corrected(withoutFootfall(none, { kind: 'measured', index: 99, isChanged: false }))
    expect(anew).toEqual({ ...measured, notes: ['Parts of this ride were set by hand.'] })
  })

  test('keeps all numbers when a paw contact is set to what it already is', () => {
    const { measures, events } = corrected(setToItself(4))
    expect(measures).toEqual(measured.measures)
    expect(events).toEqual(measured.events)
  })
})

describe('an event moved by hand', () => {
  test('moves what depends on it by as much: leaving moves stay and margin', () => {
    const random = seededRandom(5)
    for (let n = 0; n < 20; n++) {
      const byS = random.normal() * 0.2
      const atS = valueOf(measured.events.left) + byS
      const { measures } = corrected(withEvent(none, 'left', { kind: 'at', atS }))
      expect(valueOf(measures.leavingMarginS)).toBeCloseTo(valueOf(measured.measures.leavingMarginS) + byS, 9)
      expect(valueOf(measures.stayAfterGroundS)).toBeCloseTo(valueOf(measured.measures.stayAfterGroundS) + byS, 9)
      expect(measures.dropTimeS).toEqual(measured.measures.dropTimeS)
      expect(measures.leadPawAtTipM).toEqual(measured.measures.leadPawAtTipM)
    }
  })

  test('moves the hold when the settling is moved, and nothing else', () => {
    const atS = valueOf(measured.events.settled) - 0.1
    const { measures, leaving } = corrected(withEvent(none, 'settled', { kind: 'at', atS }))
    expect(valueOf(measures.holdBeforeGroundS)).toBeCloseTo(valueOf(measured.measures.holdBeforeGroundS) + 0.1, 9)
    expect({ ...measures, holdBeforeGroundS: null }).toEqual({ ...measured.measures, holdBeforeGroundS: null })
    expect(leaving).toEqual(measured.leaving)
  })

  test('reads the lead paw where it was at the new tip', () => {
    const k = 80
    const { measures } = corrected(withEvent(none, 'tipStart', { kind: 'at', atS: parts.track.ptsS[k]! }))
    expect(valueOf(measures.leadPawAtTipM)).toBeCloseTo(parts.dog.leadPawM[k]!, 9)
    expect(valueOf(measures.bodyAtTipM)).toBeCloseTo(parts.dog.bodyM[k]!, 9)
  })

  test('finds the settling anew for a new landing', () => {
    // A landing before the last step of the lead paw: it then stood at 3.10 m, where it had come to at 2.85 s.
    const { events } = corrected(withEvent(none, 'grounded', { kind: 'at', atS: 3 }))
    expect(valueOf(events.settled)).toBeGreaterThan(2.75)
    expect(valueOf(events.settled)).toBeLessThan(2.87)
  })

  test('is believed to half a frame evenly', () => {
    const { events } = corrected(withEvent(none, 'left', { kind: 'at', atS: 4.2 }))
    // Closed form: an even spread over one frame has the sd frame / sqrt(12).
    const sd = frameS / Math.sqrt(12)
    expect(events.left).toEqual({
      kind: 'measured',
      value: 4.2,
      sd: expect.closeTo(sd, 9) as number,
      ci95: [expect.closeTo(4.2 - Z95 * sd, 9), expect.closeTo(4.2 + Z95 * sd, 9)],
    })
    expect(momentSd(Float64Array.of(0, 0.02, 0.06), 0.05)).toBeCloseTo(0.02 / Math.sqrt(3), 12)
    expect(momentSd(Float64Array.of(0, 0.02, 0.06), 9)).toBeCloseTo(0.02 / Math.sqrt(3), 12)
  })

  test('turns the verdict: before the landing, and too close beside it', () => {
    const groundedS = valueOf(measured.events.grounded)
    const leftAt = (atS: number) => corrected(withEvent(none, 'left', { kind: 'at', atS })).leaving.verdict
    expect(leftAt(groundedS - 0.2)).toBe('before-ground')
    expect(leftAt(groundedS + 0.005)).toBe('too-close')
    expect(leftAt(groundedS + 0.2)).toBe('after-ground')
  })
})

describe('an event that did not happen', () => {
  const without = (event: CorrectableEvent) => corrected(withEvent(none, event, { kind: 'did-not-happen' }))

  test('leaves lower bounds when the dog is still on', () => {
    const { events, measures, leaving } = without('left')
    expect(events.left).toMatchObject({ kind: 'withheld', reason: 'still-on' })
    expect(measures.stayAfterGroundS.kind).toBe('atLeast')
    expect(leaving.verdict).toBe('after-ground')
  })

  test('takes the landing with it when the board did not tip', () => {
    const { events, measures, leaving } = without('tipStart')
    for (const gone of [events.tipStart, events.grounded, events.settled, events.bangHeard, measures.bounceM]) {
      expect(gone).toMatchObject({ kind: 'withheld', reason: 'never-tipped' })
    }
    expect(leaving.verdict).toBe('before-tip')
  })

  test('keeps a landing that is set by hand although the tip is not in the clip', () => {
    const corrections = withEvent(withEvent(none, 'tipStart', { kind: 'did-not-happen' }), 'grounded', {
      kind: 'at',
      atS: 3.3,
    })
    const { events, leaving } = corrected(corrections)
    expect(events.tipStart).toMatchObject({ kind: 'withheld', reason: 'clip-ends' })
    expect(valueOf(events.grounded)).toBe(3.3)
    expect(leaving.verdict).toBe('after-ground')
  })

  test('makes a leap before a landing that never came', () => {
    const { measures, leaving } = without('grounded')
    expect(measures.holdBeforeGroundS).toMatchObject({ kind: 'withheld', reason: 'never-landed' })
    expect(leaving.verdict).toBe('before-ground')
  })

  test('withholds the hold alone when the lead paw did not come to rest', () => {
    const { measures } = without('settled')
    expect(measures.holdBeforeGroundS).toMatchObject({ kind: 'withheld', reason: 'not-seen' })
    expect(measures.stayAfterGroundS).toEqual(measured.measures.stayAfterGroundS)
  })
})

describe('a corrected paw contact', () => {
  const first = { kind: 'measured', index: 0, isChanged: false } as const

  test('moves first on with the first paw, unless that is set by hand', () => {
    const { alongM, toS, limb } = measured.footfalls[0]!
    const moved = withFootfall(none, first, { alongM, fromS: 1.4, toS, limb })
    expect(valueOf(corrected(moved).events.firstOn)).toBe(1.4)
    expect(valueOf(corrected(withEvent(moved, 'firstOn', { kind: 'at', atS: 1.2 })).events.firstOn)).toBe(1.2)
  })

  test('moves first on to the next paw when the first is struck out', () => {
    const { events, footfalls } = corrected(withoutFootfall(none, first))
    expect(footfalls).toEqual(measured.footfalls.slice(1))
    expect(valueOf(events.firstOn)).toBe(measured.footfalls[1]!.fromS)
    expect(events.left).toEqual(measured.events.left)
  })

  test('moves leaving with an added last paw', () => {
    const added = withAddedFootfall(none, { alongM: 3.5, fromS: 4.2, toS: 4.5, limb: 'hind' })
    const { events, measures } = corrected(added)
    expect(valueOf(events.left)).toBe(4.5)
    expect(valueOf(measures.leavingMarginS)).toBeCloseTo(4.5 - valueOf(measured.events.grounded), 9)
  })

  test('is still on when it stands to the end of the clip', () => {
    const added = withAddedFootfall(none, { alongM: 3.5, fromS: 4.2, toS: 9, limb: 'hind' })
    expect(corrected(added).events.left).toMatchObject({ kind: 'withheld', reason: 'still-on' })
  })

  test('carries the lead paw along where it leads, and changes the curves nowhere else', () => {
    const index = 5
    const { fromS, toS, limb, alongM } = measured.footfalls[index]!
    const { frames } = corrected(
      withFootfall(none, { kind: 'measured', index, isChanged: false }, { alongM: alongM + 0.2, fromS, toS, limb }),
    )
    const k = parts.dog.ptsS.findIndex((atS) => atS > fromS)
    expect(frames.leadPawM[k]).toBeCloseTo(alongM + 0.2, 3)
    const untouched = (values: readonly (number | null)[]) =>
      values.filter((_, i) => parts.dog.ptsS[i]! < fromS - 0.3 || parts.dog.ptsS[i]! > toS + 0.3)
    expect(untouched(frames.leadPawM)).toEqual(untouched(measured.frames.leadPawM))
    expect(frames.rearPawM).toEqual(measured.frames.rearPawM)
  })

  test('makes a touched contact missed when every paw in it is struck out', () => {
    const inDown = measured.footfalls.flatMap(({ alongM }, index) => (alongM > 3.66 - 0.91 ? [index] : []))
    const corrections = { ...none, footfalls: { ...none.footfalls, struckOut: inDown } }
    const { zones } = corrected(corrections)
    expect(zones.down.verdict).not.toBe('touched')
    expect(zones.up).toEqual(measured.zones.up)
  })

  test('leaves nothing to time when all are struck out', () => {
    const struckOut = measured.footfalls.map((_, index) => index)
    const { events, zones } = corrected({ ...none, footfalls: { ...none.footfalls, struckOut } })
    expect(events.firstOn).toMatchObject({ kind: 'withheld' })
    expect(events.left).toMatchObject({ kind: 'withheld' })
    expect(zones.up.verdict).toBe('unsure')
  })
})

describe('a zone judged by eye', () => {
  test('holds over the paws, and withholds the facts against it', () => {
    const { zones } = corrected(withZone(none, 'down', 'missed'))
    expect(zones.down).toMatchObject({
      verdict: 'missed',
      touchedAfterGround: 'no',
      first: { kind: 'withheld' },
      clearanceM: { kind: 'withheld' },
    })
    expect(zones.up).toEqual(measured.zones.up)
  })

  test('keeps the clearance that agrees with it', () => {
    const { zones } = corrected(withZone(none, 'up', 'touched'))
    expect(zones.up).toEqual(measured.zones.up)
  })
})

describe('taking corrections back', () => {
  test('leads to the measured ride again, one by one', () => {
    const origin = { kind: 'measured', index: 2, isChanged: false } as const
    let corrections = withoutFootfall(withZone(withEvent(none, 'left', { kind: 'at', atS: 4 }), 'up', 'missed'), origin)
    corrections = withAddedFootfall(corrections, { alongM: 1, fromS: 2, toS: 2.2, limb: 'front' })
    expect(correctionCount(corrections)).toBe(4)
    expect(rideCorrections.parse(corrections)).toEqual(corrections)
    corrections = withMeasuredFootfall(corrections, 2)
    corrections = withoutFootfall(corrections, { kind: 'added', index: 0 })
    corrections = withZone(withEvent(corrections, 'left', null), 'up', null)
    expect(corrections).toEqual(none)
    expect(corrected(corrections)).toBe(measured)
  })
})

import { describe, expect, test } from 'vitest'
import type { Footfall } from '../../../analysis/dog/dog-track.ts'
import { measured, withheld, type Estimate } from '../../../analysis/estimate.ts'
import type { RideEvents } from '../../../analysis/ride/ride.ts'
import { judgeLeaving, judgeZones } from '../../../analysis/ride/verdicts.ts'
import { footfall, walkingDog } from './simulated-dog.ts'

const board = { lengthM: 3.6, contactM: 0.9 }
const unseen = withheld('hidden', 'Hidden.')
const events: RideEvents = {
  firstOn: measured(1, 0.01),
  tipStart: measured(2, 0.01),
  grounded: measured(3, 0.01),
  settled: measured(2.8, 0.01),
  left: measured(4, 0.01),
  bangHeard: unseen,
}

describe('the down contact', () => {
  const middle = footfall(1.8, 1.5, 1.9)
  /** A front and a hind paw that push the dog off the plank at 4 s. */
  const outside = [footfall(2.5, 3.5, 3.95), footfall(2.1, 3.6, 4, { limb: 'hind' })]

  test('is touched by a sure foot well inside, missed when every foot is well outside', () => {
    expect(down([middle, footfall(3, 2, 2.4)])).toMatchObject({
      verdict: 'touched',
      clearanceM: { value: expect.closeTo(-0.3) as number },
    })
    expect(down([middle, ...outside])).toMatchObject({
      verdict: 'missed',
      first: { kind: 'withheld' },
      clearanceM: { value: expect.closeTo(0.2) as number },
    })
  })

  test('is unsure for a foot within its sd of the border, and ten such feet are no surer', () => {
    expect(down([middle, footfall(2.71, 2, 2.4)]).verdict).toBe('unsure')
    const ten = Array.from({ length: 10 }, (_, n) => footfall(2.71, 2 + n / 10, 2.4 + n / 10))
    expect(down([middle, ...ten]).verdict).toBe('unsure')
  })

  test('is unsure when the only foot inside may be no paw', () => {
    expect(down([middle, footfall(3, 2, 2.4, { confidence: 0.5 })]).verdict).toBe('unsure')
  })

  test('is not missed when an unseen paw had the time and reach for one more step before the dog left', () => {
    const [front, hind] = [footfall(2.5, 3.2, 3.5), footfall(2.6, 3.6, 4, { limb: 'hind' })]
    expect(down([middle, front, hind]).verdict).toBe('unsure')
    expect(down([middle, { ...front, toS: 3.9 }, hind]).verdict).toBe('missed')
    const backAtThePivot = [footfall(1.2, 3.2, 3.5), footfall(1.3, 3.6, 4)]
    expect(down(backAtThePivot).verdict).toBe('missed')
  })

  test('is last touched at least until the end of a clip in which a paw still stands there', () => {
    const stillOn = { ...events, left: withheld('still-on', 'Still on.') }
    const untilEnd = footfall(3, 2, 6)
    expect(down([middle, untilEnd], stillOn).last).toEqual({ kind: 'atLeast', value: 6 })
    expect(down([middle, footfall(3, 2, 2.4)], stillOn).last).toMatchObject({ kind: 'measured', value: 2.4 })
  })

  test('is not missed when the dog was not seen leaving', () => {
    expect(down([middle], { ...events, left: unseen }).verdict).toBe('unsure')
    expect(down([middle, footfall(3, 2, 2.4)], { ...events, left: unseen }).verdict).toBe('touched')
  })

  test('is touched after the landing only by a foot that still stands then', () => {
    expect(down([footfall(3, 2, 2.9), ...outside]).touchedAfterGround).toBe('no')
    expect(down([footfall(3, 2, 3.1)]).touchedAfterGround).toBe('yes')
    expect(down([footfall(3, 2, 3.005)]).touchedAfterGround).toBe('unsure')
    expect(down([footfall(3, 2, 2.8)], { ...events, left: measured(2.8, 0.01) }).touchedAfterGround).toBe('no')
    const neverLanded = withheld('never-landed', 'The board came back.')
    expect(down([footfall(3, 2, 3.1)], { ...events, grounded: neverLanded }).touchedAfterGround).toBe('no')
    expect(down([footfall(3, 2, 3.1)], { ...events, grounded: unseen }).touchedAfterGround).toBe('unsure')
  })
})

test('no footfall at all leaves both zones unsure', () => {
  const none = { verdict: 'unsure', first: { kind: 'withheld' }, clearanceM: { kind: 'withheld' } }
  expect(judgeZones(walkingDog(undefined, { footfalls: [] }), board, events)).toMatchObject({ up: none, down: none })
})

describe('the leaving verdict', () => {
  const neverTipped = withheld('never-tipped', 'The board never began to tip.')
  const neverLanded = withheld('never-landed', 'The board came back.')
  const left = (atS: number) => ({ ...events, left: measured(atS, 0.01) })
  test.each<[string, RideEvents, Estimate]>([
    ['after-ground', events, measured(1, 0.02)],
    ['after-ground', { ...events, left: withheld('still-on', 'Still on.') }, { kind: 'atLeast', value: 0.4 }],
    ['too-close', left(3.02), measured(0.02, 0.02)],
    ['before-ground', left(2.5), measured(-0.5, 0.02)],
    ['before-ground', { ...left(2.5), grounded: neverLanded }, neverLanded],
    ['before-tip', { ...left(1.5), tipStart: neverTipped, grounded: neverTipped }, neverTipped],
    ['before-tip', left(1.8), measured(-1.2, 0.02)],
    ['not-seen', { ...events, left: unseen }, unseen],
    ['not-seen', { ...events, grounded: unseen }, unseen],
  ])('is %s', (verdict, given, marginS) => {
    expect(judgeLeaving(given, marginS)).toBe(verdict)
  })
})

function down(footfalls: readonly Footfall[], given: RideEvents = events) {
  return judgeZones(walkingDog(undefined, { footfalls }), board, given).down
}

import { expect, test } from 'vitest'
import { carriedCorrections } from '../../../analysis/ride/carry-corrections.ts'
import type { Corrections } from '../../../analysis/ride/corrections.ts'
import type { RideFootfall } from '../../../analysis/ride/ride.ts'
import { NO_CORRECTIONS } from '../../../main/contract/rides.ts'

const paw = (alongM: number, fromS: number, toS: number): RideFootfall => ({
  alongM,
  fromS,
  toS,
  limb: 'front',
  confidence: 0.9,
})
const before = [paw(0.3, 1.0, 1.2), paw(0.9, 1.2, 1.5), paw(1.5, 1.4, 1.8)]
const byHand = { alongM: 0.95, fromS: 1.22, toS: 1.6, limb: 'hind' as const }

function carried(footfalls: Partial<Corrections['footfalls']>, now: readonly RideFootfall[]): Corrections['footfalls'] {
  const corrections = { ...NO_CORRECTIONS, footfalls: { ...NO_CORRECTIONS.footfalls, ...footfalls } }
  return carriedCorrections(corrections, before, now).footfalls
}

test('moments and zones stay as they were set', () => {
  const set: Corrections = { ...NO_CORRECTIONS, events: { left: { kind: 'at', atS: 3.2 } }, zones: { up: 'missed' } }
  expect(carriedCorrections(set, before, [])).toEqual(set)
})

test('the same footfalls again leave all corrections as they are', () => {
  const set = { changed: [{ index: 1, footfall: byHand }], struckOut: [2], added: [paw(3.2, 2, 2.4)] }
  expect(carried(set, before)).toEqual(set)
})

test('a contact is found again under another index, a little moved and longer', () => {
  const now = [paw(0.1, 0.8, 0.95), paw(0.35, 1.02, 1.25), paw(0.98, 1.1, 1.5), paw(1.52, 1.38, 1.8)]
  const set = { changed: [{ index: 1, footfall: byHand }], struckOut: [0] }
  expect(carried(set, now)).toEqual({ changed: [{ index: 2, footfall: byHand }], struckOut: [1], added: [] })
})

test('a contact set by hand stays though it is no longer measured, and a struck out one needs nothing', () => {
  const set = { changed: [{ index: 1, footfall: byHand }], struckOut: [2] }
  expect(carried(set, [before[0]!])).toEqual({ changed: [], struckOut: [], added: [byHand] })
})

test('a contact added by hand takes the place of the same one once it is measured', () => {
  const added = { alongM: 2.0, fromS: 1.7, toS: 2.1, limb: 'front' as const }
  const now = [...before, paw(2.1, 1.75, 2.2)]
  expect(carried({ added: [added] }, now)).toEqual({
    changed: [{ index: 3, footfall: added }],
    struckOut: [],
    added: [],
  })
})

test('two corrections never speak of one contact', () => {
  const twin = [paw(0.9, 1.2, 1.5)]
  const set = { changed: [{ index: 1, footfall: byHand }], added: [{ ...byHand, alongM: 0.91 }] }
  const { changed, added } = carried(set, twin)
  expect(changed).toEqual([{ index: 0, footfall: byHand }])
  expect(added).toHaveLength(1)
})

test('a paw at the same place at another time, or two steps further, is another contact', () => {
  expect(carried({ struckOut: [0] }, [paw(0.3, 1.15, 1.4)]).struckOut).toEqual([])
  expect(carried({ struckOut: [0] }, [paw(0.5, 1.0, 1.2)]).struckOut).toEqual([])
})

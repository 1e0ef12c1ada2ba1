import { expect, test } from 'vitest'
import { isPhantom } from '../../../analysis/dog/phantom.ts'
import type { Planted } from '../../../analysis/dog/planted.ts'

const LENGTH_M = 3.66
const REST_RAD = -0.31

const paw = (seenM: number, fromS: number, toS: number): Planted => ({
  limb: 'front',
  seenM,
  scatterM: 0.01,
  fromS,
  fromSdS: 0.01,
  toS,
  toSdS: 0.01,
  confidence: 0.8,
})
/** Ten strips a second for two seconds, the board at an angle that depends on time. */
const strips = (angleAt: (atS: number) => number) =>
  Array.from({ length: 21 }, (_, k) => ({ ptsS: k / 10, angleRad: angleAt(k / 10), deviation: new Uint8Array(1) }))
const waiting = [paw(2.8, 0, 0.9), paw(3.3, 0.1, 0.8)]

test('paws that wait far beyond the pivot of a board that rests on its entry end are no dog', () => {
  expect(
    isPhantom(
      waiting,
      strips(() => REST_RAD),
      LENGTH_M,
    ),
  ).toBe(true)
})

test('a board that turns under them, or rests on its exit end, carries a dog', () => {
  // The textbook's heavy start: half of the angular acceleration times the square of time.
  const tips = strips((t) => REST_RAD + 0.5 * 0.3 * t * t)
  expect(isPhantom(waiting, tips, LENGTH_M)).toBe(false)
  expect(
    isPhantom(
      waiting,
      strips(() => -REST_RAD),
      LENGTH_M,
    ),
  ).toBe(false)
})

test('a dog that also stood before the pivot, and one that only passes, are left alone', () => {
  const atRest = strips(() => REST_RAD)
  expect(isPhantom([paw(1.2, 0, 0.3), ...waiting], atRest, LENGTH_M)).toBe(false)
  expect(isPhantom([paw(2.8, 0, 0.2), paw(3.3, 0.1, 0.4)], atRest, LENGTH_M)).toBe(false)
})

test('where the board was not followed nothing is ruled out', () => {
  expect(isPhantom(waiting, [null, null], LENGTH_M)).toBe(false)
})

import { expect, test } from 'vitest'
import { median } from '../../../analysis/numeric/robust.ts'
import { dogOutlines } from '../../../analysis/silhouette/dog-outlines.ts'
import { outlinesOnFrames } from '../../../analysis/silhouette/on-frames.ts'
import { invented, lattice, shared, type Stay } from './invented-looks.ts'

const outlinesOf = (stay: Stay) => dogOutlines(stay.looks, lattice, stay.dog)

/** What each outline shares with the true dog, by frame. */
function sharedIn(stay: Stay): Map<number, number> {
  return new Map(outlinesOf(stay).flatMap((outline, k) => (outline === null ? [] : [[k, shared(outline, stay, k)]])))
}

test('a dog alone is outlined in every frame, closely', () => {
  const found = sharedIn(invented(30))
  expect(found.size).toBe(30)
  // Where legs come close together the gap between them may be taken in.
  expect(Math.min(...found.values())).toBeGreaterThan(0.75)
  expect(median([...found.values()])).toBeGreaterThan(0.82)
})

test('a person who overtakes behind the dog is not taken in', () => {
  const stay = invented(40, (k) => -1.6 + 0.08 * k)
  const found = sharedIn(stay)
  expect(found.size).toBeGreaterThan(30)
  expect(Math.min(...found.values())).toBeGreaterThan(0.7)
  expect(median([...found.values()])).toBeGreaterThan(0.8)
})

test('a dog that is hidden behind somebody has no outline then, and one before and after', () => {
  const stay = invented(40, (k) => (k < 15 ? -1.8 : k < 25 ? 0 : 1.8), true)
  const found = sharedIn(stay)
  expect([...found.keys()].filter((k) => k >= 15 && k < 25)).toEqual([])
  expect(found.size).toBeGreaterThan(25)
  expect(Math.min(...found.values())).toBeGreaterThan(0.7)
})

test('what is cut off where nothing was seen has no outline', () => {
  const stay = invented(30)
  const behindM = stay.bodiesM[29]!
  const looks = stay.looks.map((look) => ({
    ...look,
    deviation: look.deviation.map((value, i) =>
      (i % look.columns) * lattice.stepM - 1 > behindM - 0.05 ? 255 : value,
    ),
  }))
  const outlines = dogOutlines(looks, lattice, stay.dog)
  expect(outlines[29]).toBeNull()
  expect(outlines[5]).not.toBeNull()
})

test('frames in which nobody was near, and stays that are too short to learn from, have no outlines', () => {
  const stay = invented(30)
  expect(dogOutlines([null, ...stay.looks.slice(1)], lattice, stay.dog)[0]).toBeNull()
  const brief = stay.looks.map((look, k) => (k < 5 ? look : null))
  expect(dogOutlines(brief, lattice, stay.dog).every((outline) => outline === null)).toBe(true)
})

test('frames between two looks of a fast clip have the nearer one, and none far from all', () => {
  const outlines = [[1, 2, 3, 4, 5, 6], [7, 8, 9, 10, 11, 12], null]
  const onFrames = outlinesOnFrames(outlines, [0, 1 / 120, 2 / 120], [0, 1 / 240 - 1e-4, 1 / 240 + 1e-4, 2 / 120, 0.5])
  expect(onFrames).toEqual([outlines[0], outlines[0], outlines[1], null, null])
})

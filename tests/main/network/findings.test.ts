import { expect, test } from 'vitest'
import type { PictureBox } from '../../../main/network/animal-finder.ts'
import { type Detection, findingsFrom, overlap } from '../../../main/network/findings.ts'

const PERSON = 0
const CAT = 15
const DOG = 16
const SHEEP = 18
const CHAIR = 56

test('a box that looks like a dog and like a sheep is one dog', () => {
  const found = findingsFrom([detection(SHEEP, 0.3, box(1)), detection(DOG, 0.5, box(0))])
  expect(found).toEqual([{ what: 'dog', label: 'dog', score: 0.5, dogScore: 0.5, box: box(0) }])
})

test('a box that looks more like a cat is one animal and keeps what speaks for a dog', () => {
  const found = findingsFrom([detection(CAT, 0.4, box(0)), detection(DOG, 0.2, box(2))])
  expect(found).toEqual([{ what: 'animal', label: 'cat', score: 0.4, dogScore: 0.2, box: box(0) }])
})

test('two dogs side by side are two', () => {
  expect(findingsFrom([detection(DOG, 0.5, box(0)), detection(DOG, 0.4, box(150))])).toHaveLength(2)
})

test('a person and a dog in the same place are both kept, the surer first', () => {
  const found = findingsFrom([detection(DOG, 0.3, box(0)), detection(PERSON, 0.6, box(0))])
  expect(found.map(({ what }) => what)).toEqual(['person', 'dog'])
})

test('furniture and guesses below a score of 0.1 are left out', () => {
  expect(findingsFrom([detection(CHAIR, 0.9, box(0)), detection(DOG, 0.09, box(0))])).toEqual([])
})

test('half a shift of equal boxes is an overlap of a third', () => {
  expect(overlap(box(0), box(50))).toBeCloseTo(1 / 3, 12)
  expect(overlap(box(0), box(0))).toBe(1)
  expect(overlap(box(0), box(100))).toBe(0)
})

function detection(classIndex: number, score: number, at: PictureBox): Detection {
  return { classIndex, score, box: at }
}

function box(x0Px: number): PictureBox {
  return { x0Px, y0Px: 0, x1Px: x0Px + 100, y1Px: 60 }
}

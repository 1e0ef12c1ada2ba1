import { expect, test } from 'vitest'
import { findBars } from '../../../analysis/finding/bars.ts'

const size = { widthPx: 320, heightPx: 180 }

/** A map in which everything has changed for which `isIn` holds. */
function map(isIn: (column: number, row: number) => boolean): Float32Array {
  return Float32Array.from({ length: 320 * 180 }, (_, i) => (isIn(i % 320, Math.floor(i / 320)) ? 1 : 0))
}

/** 3 px thick, from column 60 to 240, rising to the right by `deg`. */
const rising = (deg: number) => (column: number, row: number) =>
  column >= 60 && column <= 240 && Math.abs(row - (130 - Math.tan((deg * Math.PI) / 180) * (column - 60))) < 1.6

test.each([8, 15, 22, 30])('a thin bar that rises by %d deg is found to a degree, with its ends', (deg) => {
  const [bar] = findBars(map(rising(deg)), size, -1)
  expect(Math.abs(-Math.atan(bar!.slope) - (deg * Math.PI) / 180)).toBeLessThan(0.018)
  expect(Math.abs(bar!.fromColumn - 60)).toBeLessThan(8)
  expect(Math.abs(bar!.toColumn - 240)).toBeLessThan(8)
})

test('it is no bar of the other direction', () => {
  const [bar] = findBars(map(rising(15)), size, 1)
  expect(bar?.score ?? 0).toBeLessThan(0.15 * size.widthPx)
})

test('something as thick as a dog is no bar', () => {
  expect(
    findBars(
      map((column, row) => Math.hypot(column - 150, row - 90) < 30),
      size,
      1,
    ),
  ).toEqual([])
})

test('a level edge, as of a shadow, is no bar', () => {
  expect(
    findBars(
      map((_, row) => row > 100),
      size,
      1,
    ),
  ).toEqual([])
})

test('nothing is found where nothing has changed', () => {
  expect(
    findBars(
      map(() => false),
      size,
      -1,
    ),
  ).toEqual([])
})

test('bars that pass elsewhere are not looked for', () => {
  const through = { column: 150, row: 40, within: 5 }
  expect(findBars(map(rising(15)), size, -1, through)).toEqual([])
  const where = { column: 150, row: 130 - 90 * Math.tan(Math.PI / 12), within: 5 }
  expect(findBars(map(rising(15)), size, -1, where).length).toBeGreaterThan(0)
})

import { expect, test } from 'vitest'
import type { ScenePicture } from '../../../analysis/finding/scene-picture.ts'
import { findZoneBorder } from '../../../analysis/finding/zone-borders.ts'

/** A picture of one colour left of a place, and of another right of it; the pixel in between is mixed. */
function twoColours(at: number, left: number, right: number): ScenePicture {
  const luma = (column: number) => left + (right - left) * Math.min(1, Math.max(0, column + 0.5 - at + 0.5))
  const grey = new Float32Array(160 * 40).fill(128)
  return {
    widthPx: 320,
    heightPx: 80,
    y: Float32Array.from({ length: 320 * 80 }, (_, i) => luma(i % 320)),
    u: grey,
    v: grey,
  }
}

const face = { slope: -0.1, atZero: 60 }

test.each([100, 100.5, 103, 97.25])('a border at column %d is found to a tenth of a pixel', (at) => {
  // Columns are counted by their middles here, so that a border at x lies at column x - 0.5.
  const found = findZoneBorder(twoColours(at, 60, 140), face, 100, 200)
  expect(Math.abs(found! - (at - 0.5))).toBeLessThan(0.1)
})

test('a faint change is no border', () => {
  expect(findZoneBorder(twoColours(100, 60, 70), face, 100, 200)).toBeNull()
})

test('a border far from where it should be is another thing', () => {
  expect(findZoneBorder(twoColours(140, 60, 140), face, 100, 200)).toBeNull()
})

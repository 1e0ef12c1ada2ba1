import { expect, test } from 'vitest'
import type { Frame } from '../../../analysis/clip/frame.ts'
import { likeness } from '../../../analysis/finding/likeness.ts'

const SAME = Float64Array.of(1, 0, 0, 0, 1, 0, 0, 0, 1)

/** A picture whose luma is given by place. */
function picture(luma: (column: number, row: number) => number): Frame {
  const y = Uint8Array.from({ length: 64 * 64 }, (_, i) => luma(i % 64, Math.floor(i / 64)))
  const view = { widthPx: 64, heightPx: 64, originXPx: 0, originYPx: 0, scale: 1 }
  return { index: 0, ptsS: 0, view, y, u: new Uint8Array(0), v: new Uint8Array(0) }
}

const checked = (column: number, row: number) => ((column >> 3) + (row >> 3)) % 2
const at = { xPx: 32, yPx: 32 }

test('a picture is like itself, however bright', () => {
  const [dark, bright] = [picture((c, r) => 40 + 30 * checked(c, r)), picture((c, r) => 90 + 120 * checked(c, r))]
  expect(likeness(dark, at, bright, SAME, 12)).toBeCloseTo(1, 6)
})

test('a negative is the opposite', () => {
  const [one, other] = [picture((c, r) => 200 * checked(c, r)), picture((c, r) => 200 - 200 * checked(c, r))]
  expect(likeness(one, at, other, SAME, 12)).toBeCloseTo(-1, 6)
})

test('a place is compared where the homography puts it', () => {
  const grainy = (c: number, r: number) => 4 * ((c * c * 7 + r * r * 13 + 3 * c * r) % 50)
  const one = picture((c, r) => grainy(c + 10, r + 10))
  const moved = picture((c, r) => grainy(c + 5, r + 13))
  const shift = Float64Array.of(1, 0, 5, 0, 1, -3, 0, 0, 1)
  expect(likeness(one, at, moved, shift, 10)).toBeCloseTo(1, 2)
  expect(likeness(one, at, moved, SAME, 10)).toBeLessThan(0.5)
})

test('nothing is said of an even picture, or beyond the border', () => {
  const [even, other] = [picture(() => 80), picture((c, r) => 200 * checked(c, r))]
  expect(likeness(even, at, other, SAME, 12)).toBeNull()
  expect(likeness(other, { xPx: 2, yPx: 32 }, other, SAME, 12)).toBeNull()
})

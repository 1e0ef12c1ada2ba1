import { describe, expect, test } from 'vitest'
import type { Frame } from '../../../analysis/clip/frame.ts'
import { mapImage } from '../../../analysis/camera/camera-motion.ts'
import { applyHomography } from '../../../analysis/geometry/homography.ts'
import { difference, differenceBeyondPixel, pictureOf } from '../../../analysis/finding/scene-picture.ts'
import { steadyPictures } from '../../../analysis/finding/steady-pictures.ts'

const SIZE = { widthPx: 320, heightPx: 180 }
const VIEW = { ...SIZE, originXPx: 0, originYPx: 0, scale: 1 }

/** A patchy scene as a camera sees it that was turned by so much about its upright axis (pinhole, f = 0.9 of the width). */
function turned(index: number, panRad: number): Frame {
  const y = new Uint8Array(SIZE.widthPx * SIZE.heightPx)
  for (let row = 0; row < SIZE.heightPx; row++) {
    for (let column = 0; column < SIZE.widthPx; column++) {
      const [a, b] = applyHomography(pan(panRad), column + 0.5, row + 0.5)
      y[row * SIZE.widthPx + column] = Math.round(
        120 + 40 * Math.sin(0.21 * a) * Math.sin(0.17 * b) + 30 * Math.sin(0.05 * a + 0.11 * b) * Math.sin(0.043 * b),
      )
    }
  }
  const chroma = () => new Uint8Array((SIZE.widthPx / 2) * (SIZE.heightPx / 2)).fill(128)
  return { index, ptsS: index, view: VIEW, y, u: chroma(), v: chroma() }
}

/** From px of the turned picture to px of the first one: K R K^-1, written out for a turn about the upright axis. */
function pan(rad: number): Float64Array {
  const f = 0.9 * SIZE.widthPx
  const [cx, cy] = [SIZE.widthPx / 2, SIZE.heightPx / 2]
  const [cos, sin] = [Math.cos(rad), Math.sin(rad)]
  // Ray (x - cx, y - cy, f) turned, then projected.
  const x = [f * cos - cx * sin, 0, -f * cos * cx + f * f * sin + cx * (sin * cx + f * cos)]
  const y = [-cy * sin, f, -f * cy + cy * (sin * cx + f * cos)]
  return Float64Array.of(...x, ...y, -sin, 0, sin * cx + f * cos)
}

describe('pictures of a camera that pans', () => {
  const frames = [0, 0.01, 0.025, 0.04].map((rad, k) => turned(k, rad))
  const { pictures, hasMoved } = steadyPictures(frames, SIZE)

  test('are laid over the first one to half a pixel', () => {
    expect(hasMoved).toBe(true)
    expect(pictures).toHaveLength(4)
    for (const [k, { frameFromReference }] of pictures.entries()) {
      // There and back is the same place.
      const back = applyHomography(pan([0, 0.01, 0.025, 0.04][k]!), ...xy(mapImage(frameFromReference, at(150, 80))))
      expect(Math.hypot(back[0] - 150, back[1] - 80)).toBeLessThan(0.5)
    }
  })

  test('show the scene where it was, and nothing where they do not reach', () => {
    const last = pictures.at(-1)!.picture
    const changes = difference(last, pictures[0]!.picture)
    const middle = 90 * SIZE.widthPx + 160
    expect(changes[middle]).toBeLessThan(6)
    expect([...last.y].some(Number.isNaN)).toBe(true)
    expect([...changes].every((level) => Number.isFinite(level))).toBe(true)
  })
})

test('pictures of a camera that stands still are taken as they are', () => {
  const { hasMoved, pictures } = steadyPictures([turned(0, 0), turned(1, 0)], SIZE)
  expect(hasMoved).toBe(false)
  expect(pictures[1]!.picture.y).toEqual(pictures[0]!.picture.y)
})

test('an edge that lies less than a pixel off is no change, a bar of another colour is', () => {
  const frame = (paint: (column: number) => number): Frame => {
    const empty = turned(0, 0)
    return { ...empty, y: empty.y.map((_, i) => paint(i % SIZE.widthPx)) }
  }
  const step = pictureOf(
    frame((column) => (column < 100 ? 50 : 200)),
    VIEW,
    null,
  )
  const shifted = pictureOf(
    frame((column) => (column < 100 ? 50 : column === 100 ? 120 : 200)),
    VIEW,
    null,
  )
  const bar = pictureOf(
    frame((column) => (column < 100 ? 50 : column < 108 ? 120 : 200)),
    VIEW,
    null,
  )
  const at = 90 * SIZE.widthPx + 100
  expect(difference(shifted, step)[at]).toBe(80)
  expect(differenceBeyondPixel(shifted, step)[at]).toBe(0)
  expect(differenceBeyondPixel(bar, step)[at + 4]).toBe(80)
})

function at(xPx: number, yPx: number) {
  return { xPx, yPx }
}

function xy({ xPx, yPx }: { xPx: number; yPx: number }): [number, number] {
  return [xPx, yPx]
}

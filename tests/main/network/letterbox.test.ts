import { beforeAll, expect, test } from 'vitest'
import { boxFromSquare, letterbox } from '../../../main/network/letterbox.ts'
import { cv, visionReady } from '../../report/vision-library.ts'

beforeAll(visionReady)

test('a wide picture lies in the middle of the square with black above and below', () => {
  const { square, scale, offsetXPx, offsetYPx } = letterbox(
    picture(128, 64, () => 200),
    32,
  )
  expect({ scale, offsetXPx, offsetYPx }).toEqual({ scale: 0.25, offsetXPx: 0, offsetYPx: 8 })
  const rowMeans = Array.from({ length: 32 }, (_, y) => mean(square.subarray(y * 96, (y + 1) * 96)))
  expect(rowMeans.map(Math.round)).toEqual(Array.from({ length: 32 }, (_, y) => (y >= 8 && y < 24 ? 200 : 0)))
})

test('an even slope of brightness stays an even slope when it shrinks', () => {
  const { square } = letterbox(
    picture(90, 90, (x) => 2 * (x + 0.5)),
    30,
  )
  // The middle of target pixel x lies at 3 (x + 0.5) in the source; the outermost pixels see only one side.
  const row = Array.from({ length: 30 }, (_, x) => square[(15 * 30 + x) * 3]!)
  row.slice(1, -1).forEach((value, i) => {
    expect(value).toBeCloseTo(2 * 3 * (i + 1.5), 3)
  })
})

test('fine stripes melt into grey instead of flickering', () => {
  const { square } = letterbox(
    picture(320, 320, (x) => (x % 2 === 0 ? 0 : 200)),
    64,
  )
  expect(Math.min(...Array.from(square))).toBeGreaterThan(90)
  expect(Math.max(...square)).toBeLessThan(110)
})

test('enlarging agrees with the linear interpolation of a general-purpose vision library', () => {
  // Outside reference: OpenCV's resize, through @techstark/opencv-js.
  const noise = picture(13, 13, (x, y, c) => (x * 37 + y * 91 + c * 53 + x * y * 17) % 256)
  const source = cv.matFromArray(13, 13, cv.CV_8UC3, noise.rgb)
  const floats = new cv.Mat()
  const target = new cv.Mat()
  source.convertTo(floats, Number(cv.CV_32F))
  cv.resize(floats, target, new cv.Size(29, 29), 0, 0, Number(cv.INTER_LINEAR))
  const { square } = letterbox(noise, 29)
  expect(largestDifference(square, Float32Array.from(target.data32F))).toBeLessThan(1e-3)
  for (const mat of [source, floats, target]) mat.delete()
})

test('a box in the square comes back as the box in the picture, cut at its border', () => {
  const wide = picture(1280, 720, () => 0)
  const boxed = letterbox(wide, 512)
  const box = boxFromSquare({ x0Px: 200, y0Px: 212, x1Px: 300, y1Px: 500 }, boxed, wide)
  expect(box).toEqual({ x0Px: 500, y0Px: 250, x1Px: 750, y1Px: 720 })
})

function picture(widthPx: number, heightPx: number, value: (x: number, y: number, c: number) => number) {
  const rgb = Uint8Array.from({ length: widthPx * heightPx * 3 }, (_, i) => {
    const pixel = Math.floor(i / 3)
    return value(pixel % widthPx, Math.floor(pixel / widthPx), i % 3)
  })
  return { rgb, widthPx, heightPx }
}

function mean(values: Float32Array): number {
  return values.reduce((a, b) => a + b, 0) / values.length
}

function largestDifference(a: Float32Array, b: Float32Array): number {
  expect(a.length).toBe(b.length)
  return a.reduce((largest, value, i) => Math.max(largest, Math.abs(value - b[i]!)), 0)
}

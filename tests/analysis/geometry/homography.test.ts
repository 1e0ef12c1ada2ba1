import { beforeAll, expect, test } from 'vitest'
import {
  applyHomography,
  composeHomographies,
  homographyFromPoints,
  invertHomography,
} from '../../../analysis/geometry/homography.ts'
import { seededRandom } from '../../../analysis/numeric/random.ts'
import { cv, visionReady } from '../../report/vision-library.ts'

type Pair = [number, number]

beforeAll(visionReady)

const SQUARE: Pair[] = [
  [0, 0],
  [1, 0],
  [1, 1],
  [0, 1],
]

test('a shift and a doubling take (3, 4) to (7, 8)', () => {
  expect(applyHomography(Float64Array.of(2, 0, 1, 0, 2, 0, 0, 0, 1), 3, 4)).toEqual([7, 8])
})

test('four corners are met exactly', () => {
  const corners: Pair[] = [
    [10, 20],
    [110, 30],
    [90, 150],
    [5, 120],
  ]
  const imageFromSquare = homographyFromPoints(SQUARE, corners)!
  SQUARE.forEach(([x, y], k) => {
    const [u, v] = applyHomography(imageFromSquare, x, y)
    expect(u).toBeCloseTo(corners[k]![0], 9)
    expect(v).toBeCloseTo(corners[k]![1], 9)
  })
})

test('the inverse leads back, and composing applies the second one first', () => {
  const bent = homographyFromPoints(SQUARE, [
    [0, 0],
    [2, 0.1],
    [1.8, 2],
    [-0.1, 1.5],
  ])!
  const [x, y] = applyHomography(composeHomographies(invertHomography(bent), bent), 0.3, 0.8)
  expect(x).toBeCloseTo(0.3, 12)
  expect(y).toBeCloseTo(0.8, 12)
  const shift = Float64Array.of(1, 0, 5, 0, 1, 0, 0, 0, 1)
  const double = Float64Array.of(2, 0, 0, 0, 2, 0, 0, 0, 1)
  expect(applyHomography(composeHomographies(shift, double), 1, 1)).toEqual([7, 2])
})

test('three points, or four on a line, determine nothing', () => {
  expect(homographyFromPoints(SQUARE.slice(0, 3), SQUARE.slice(0, 3))).toBeNull()
  const line: Pair[] = [0, 1, 2, 3].map((x) => [x, x])
  const found = homographyFromPoints(line, SQUARE)
  expect(found === null || found.some((element) => Math.abs(element) > 1e6 || Number.isNaN(element))).toBe(true)
})

test('noisy points give the projection that a general-purpose vision library finds', () => {
  // Outside reference: OpenCV's findHomography (least squares over all points), through @techstark/opencv-js.
  const random = seededRandom(11)
  const truth = Float64Array.of(180, 12, 300, -20, -170, 420, 0.02, 0.01, 1)
  const from: Pair[] = Array.from({ length: 30 }, () => [3.66 * random.uniform(), random.uniform()])
  const to = from.map(([x, y]): Pair => {
    const [u, v] = applyHomography(truth, x, y)
    return [u + 0.5 * random.normal(), v + 0.5 * random.normal()]
  })
  const source = cv.matFromArray(from.length, 1, cv.CV_64FC2, from.flat())
  const target = cv.matFromArray(to.length, 1, cv.CV_64FC2, to.flat())
  const reference = Float64Array.from(cv.findHomography(source, target).data64F)
  const ours = homographyFromPoints(from, to)!
  for (const [x, y] of from) {
    const [u, v] = applyHomography(ours, x, y)
    const [uReference, vReference] = applyHomography(reference, x, y)
    // They minimise slightly different errors (ours algebraic): a small part of the noise of 0.5 px.
    expect(Math.hypot(u - uReference, v - vReference)).toBeLessThan(0.05)
  }
})

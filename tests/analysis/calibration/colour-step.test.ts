import { expect, test } from 'vitest'
import { findColourStep } from '../../../analysis/calibration/colour-step.ts'
import { normalCdf } from '../../../analysis/numeric/normal.ts'
import { seededRandom } from '../../../analysis/numeric/random.ts'

/** A line from -9 to 9 px: one colour below the border, another beyond, blurred, with sensor noise. */
function line(borderPx: number, below: readonly number[], beyond: readonly number[], noise: number, seed = 1) {
  const random = seededRandom(seed)
  const positions = Float64Array.from({ length: 37 }, (_, k) => -9 + 0.5 * k)
  const colours = new Float32Array(3 * positions.length)
  positions.forEach((position, k) => {
    const share = normalCdf((position - borderPx) / 0.7)
    for (let channel = 0; channel < 3; channel++) {
      const clean = below[channel]! + share * (beyond[channel]! - below[channel]!)
      colours[3 * k + channel] = clean + noise * random.normal()
    }
  })
  return { positions, colours }
}

test.each([-3.6, -0.2, 0, 0.37, 4.1])('a clean border at %f px is found within 0.02 px', (borderPx) => {
  const { positions, colours } = line(borderPx, [60, 120, 130], [150, 120, 130], 0)
  expect(findColourStep(positions, colours, 0, 0.7, 5)!.shift).toBeCloseTo(borderPx, 1)
  expect(Math.abs(findColourStep(positions, colours, 0, 0.7, 5)!.shift - borderPx)).toBeLessThan(0.02)
})

test('where it was expected does not matter', () => {
  const { positions, colours } = line(0.8, [60, 120, 130], [150, 110, 140], 3)
  const fromLeft = -2 + findColourStep(positions, colours, -2, 0.7, 5)!.shift
  const fromRight = 3 + findColourStep(positions, colours, 3, 0.7, 5)!.shift
  expect(fromLeft).toBeCloseTo(fromRight, 2)
})

test('a border between colours of one brightness is found by its chroma', () => {
  const { positions, colours } = line(1.3, [100, 90, 128], [100, 150, 128], 2)
  const found = findColourStep(positions, colours, 0, 0.7, 5)!
  expect(found.shift).toBeCloseTo(1.3, 1)
  expect(found.contrast).toBeGreaterThan(50)
})

test('what two colours leave unexplained is the noise', () => {
  const { positions, colours } = line(0, [60, 120, 130], [150, 120, 130], 4)
  const { misfit, contrast } = findColourStep(positions, colours, 0, 0.7, 5)!
  expect(misfit).toBeGreaterThan(3)
  expect(misfit).toBeLessThan(5)
  expect(contrast).toBeCloseTo(90, -1)
})

test('a border beyond the reach is not forced into it', () => {
  const { positions, colours } = line(7, [60, 120, 130], [150, 120, 130], 0)
  expect(findColourStep(positions, colours, 0, 0.7, 5)).toBeNull()
})

test('without a border the contrast stays at the noise', () => {
  for (let seed = 1; seed <= 20; seed++) {
    const { positions, colours } = line(0, [80, 120, 130], [80, 120, 130], 3, seed)
    const found = findColourStep(positions, colours, 0, 0.7, 5)
    expect(found?.contrast ?? 0).toBeLessThan(4 * 3)
  }
})

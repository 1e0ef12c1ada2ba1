import { expect, test } from 'vitest'
import { asidePerPx, entryLine } from '../../../analysis/approach/entry-line.ts'
import type { GroundPaw } from '../../../analysis/approach/ground-paws.ts'
import { seededRandom } from '../../../analysis/numeric/random.ts'
import { camera } from './invented-approach.ts'

const PLACES_M = [-1.4, -1.15, -0.9, -0.7, -0.45, -0.2]

/** Paws to the left and right, in turns, of a line that comes `slope` m a metre from the camera's side. */
function pawsAlong(
  slope: number,
  offsetM: number,
  halfM = 0.05,
  noise: () => number = () => 0,
  isLeft: (k: number) => boolean = (k) => k % 2 === 0,
): GroundPaw[] {
  return PLACES_M.map((aheadM, k) => ({
    aheadM,
    asideM: offsetM - slope * aheadM + (isLeft(k) ? halfM : -halfM) + noise(),
    fromS: k / 10,
    toS: k / 10 + 0.12,
  }))
}

test('a line from the camera side is found with its place at the entry end', () => {
  const line = entryLine(pawsAlong(0.4, 0.05), camera, [camera], 1)
  expect(Math.abs(line.slope - 0.4)).toBeLessThan(line.slopeSd)
  expect(Math.abs(line.offsetM - 0.05)).toBeLessThan(line.offsetSdM)
  expect(line.paws).toBe(6)
  expect(line.slopeSd).toBeLessThan(0.12)
})

test('a line from the far side is the same line mirrored', () => {
  const [near, far] = [0.3, -0.3].map((slope) => entryLine(pawsAlong(slope, 0, 0.05), camera, [camera], 1))
  expect(far!.slope).toBeCloseTo(-near!.slope, 1)
})

test('a raised leg, which seems to stand far behind the line, hardly turns it', () => {
  const raised = { aheadM: -0.6, asideM: -0.6, fromS: 0.3, toS: 0.4 }
  const plain = entryLine(pawsAlong(0.2, 0), camera, [camera], 1)
  const line = entryLine([...pawsAlong(0.2, 0), raised], camera, [camera], 1)
  expect(Math.abs(line.slope - plain.slope)).toBeLessThan(0.02)
  expect(line.paws).toBe(6)
})

test('without paws only what is known beforehand is left', () => {
  const line = entryLine([], camera, [camera], 1)
  expect(line).toMatchObject({ paws: 0, slope: expect.closeTo(0, 2) as number })
  expect(line.slopeSd).toBeGreaterThan(0.24)
})

test('the interval holds the true line in 90 to 99 of 100 draws', () => {
  const random = seededRandom(5)
  let [slopes, offsets] = [0, 0]
  const draws = 200
  for (let k = 0; k < draws; k++) {
    const [slope, offsetM] = [0.28 * random.normal(), 0.12 * random.normal()]
    const sdM = Math.hypot(0.02, 0.8 * asidePerPx(camera, 0.7, -0.7))
    // The ground may be 7 mm higher or lower than it is taken for, which seems to be some 26 mm aside.
    const commonM = 0.026 * random.normal()
    const paws = pawsAlong(
      slope,
      offsetM + commonM,
      0.02 + 0.07 * random.uniform(),
      () => sdM * random.normal(),
      () => random.uniform() < 0.5,
    )
    const line = entryLine(paws, camera, [camera], 0.7)
    if (Math.abs(line.slope - slope) < 1.96 * line.slopeSd) slopes++
    if (Math.abs(line.offsetM - offsetM) < 1.96 * line.offsetSdM) offsets++
  }
  for (const inside of [slopes, offsets]) {
    expect(inside / draws).toBeGreaterThan(0.9)
    expect(inside / draws).toBeLessThan(1)
  }
})

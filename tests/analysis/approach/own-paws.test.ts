import { expect, test } from 'vitest'
import type { GroundPaw } from '../../../analysis/approach/ground-paws.ts'
import { ownPaws } from '../../../analysis/approach/own-paws.ts'
import { likeness } from './invented-approach.ts'

/** The body's centre comes at 3 m/s and is 1 m before the plank at 1 s. */
const ptsS = Float64Array.from({ length: 100 }, (_, k) => k / 50)
const always = ptsS.map(() => 1)
const path = { ptsS, aheadM: ptsS.map((t) => 3 * (t - 1) - 1), shown: always, inSight: always }

const paw = (aheadM: number, asideM: number): GroundPaw => ({ aheadM, asideM, fromS: 0.95, toS: 1.05 })

test('a paw below the body is the dog’s own', () => {
  const paws = [paw(-0.75, 0.05), paw(-1.3, -0.05)]
  expect(ownPaws(paws, path, likeness)).toEqual(paws)
})

test('what stands where no paw of the dog reaches is somebody else’s, or a shadow', () => {
  expect(ownPaws([paw(-2, 0), paw(-0.1, 0)], path, likeness)).toEqual([])
})

test('what seems to stand far behind a paw at the same time is higher up: a belly or a raised leg', () => {
  const own = paw(-0.8, 0.05)
  expect(ownPaws([own, paw(-1, -0.5)], path, likeness)).toEqual([own])
})

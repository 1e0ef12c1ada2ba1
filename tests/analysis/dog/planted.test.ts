import { expect, test } from 'vitest'
import { plantedPaws } from '../../../analysis/dog/planted.ts'
import { oddsOf, type TruePaw } from './simulated-odds.ts'

const still = () => 1
const seen = (paws: readonly TruePaw[]) => plantedPaws(oddsOf(paws, 3, still, still))

test('a standing paw is placed to a few millimetres and timed to a few milliseconds', () => {
  const [paw, ...others] = seen([{ limb: 'front', alongM: 1.237, fromS: 0.5, toS: 0.8 }])
  expect(others).toEqual([])
  expect(paw!.limb).toBe('front')
  expect(Math.abs(paw!.seenM - 1.237)).toBeLessThan(0.004)
  expect(Math.abs(paw!.fromS - 0.5)).toBeLessThan(0.006)
  expect(Math.abs(paw!.toS - 0.8)).toBeLessThan(0.006)
})

test('front and hind paws in the same print are two, each with its own time', () => {
  const paws = seen([
    { limb: 'front', alongM: 1.2, fromS: 0.5, toS: 0.8 },
    { limb: 'hind', alongM: 1.21, fromS: 0.85, toS: 1.2 },
  ])
  expect(paws.map((p) => p.limb)).toEqual(['front', 'hind'])
})

test('two front paws side by side ten centimetres apart are two', () => {
  const paws = seen([
    { limb: 'front', alongM: 2.5, fromS: 0.5, toS: 1.5 },
    { limb: 'front', alongM: 2.6, fromS: 0.7, toS: 1.5 },
  ])
  expect(paws).toHaveLength(2)
  expect(Math.abs(paws[1]!.fromS - 0.7)).toBeLessThan(0.01)
})

test('what the network holds for less likely than not is no paw', () => {
  expect(seen([{ limb: 'front', alongM: 2, fromS: 0.5, toS: 1, odds: 0.4 }])).toEqual([])
})

test('a touch of a thirtieth of a second is not told from noise', () => {
  expect(seen([{ limb: 'hind', alongM: 2, fromS: 0.5, toS: 0.53 }])).toEqual([])
})

test('a later start of everything moves every time by as much', () => {
  const early = seen([{ limb: 'front', alongM: 1.5, fromS: 0.4, toS: 0.9 }])[0]!
  const late = seen([{ limb: 'front', alongM: 1.5, fromS: 1.4, toS: 1.9 }])[0]!
  expect(late.fromS - early.fromS).toBeCloseTo(1, 3)
  expect(late.toS - early.toS).toBeCloseTo(1, 3)
  expect(late.seenM).toBeCloseTo(early.seenM, 6)
})

import { expect, test } from 'vitest'
import { stayEnd, together } from '../../../analysis/dog/stay-ends.ts'
import type { PawOdds } from '../../../analysis/dog/paw-odds.ts'
import { STEP_S } from '../../../analysis/dog/paw-picture.ts'
import { normalCdf } from '../../../analysis/numeric/normal.ts'

function oddsOn(on: (atS: number) => number): PawOdds {
  const none = new Float32Array(0)
  const steps = 240
  return {
    ...{ fromS: 1, steps, front: none, hind: none, lead: none, body: none },
    on: Float32Array.from({ length: steps }, (_, step) => on(1 + step * STEP_S)),
  }
}

test('odds that rise like a normal distribution give its mean and standard deviation', () => {
  const begins = stayEnd(
    oddsOn((t) => normalCdf((t - 2.52) / 0.1)),
    2.5,
    'on',
  )!
  expect(begins.atS).toBeCloseTo(2.52, 2)
  expect(Math.abs(begins.sdS - 0.1)).toBeLessThan(0.01)
  const ends = stayEnd(
    oddsOn((t) => 1 - normalCdf((t - 3.1) / 0.06)),
    3.2,
    'off',
  )!
  expect(ends.atS).toBeCloseTo(3.1, 2)
  expect(Math.abs(ends.sdS - 0.06)).toBeLessThan(0.01)
})

test('a moment in which the dog is hidden does not end its stay', () => {
  const hidden = (t: number) => (t > 2.8 && t < 2.9 ? 0.2 : t < 3 ? 1 : 0)
  expect(stayEnd(oddsOn(hidden), 3, 'off')!.atS).toBeCloseTo(3, 1)
})

test('a touch that the network takes for nothing has no end of a stay', () => {
  expect(
    stayEnd(
      oddsOn(() => 0.2),
      3,
      'on',
    ),
  ).toBeNull()
})

test('two tellings that agree are no surer than one, and two that differ are uncertain by half of it', () => {
  expect(together({ atS: 1, sdS: 0.02 }, { atS: 1, sdS: 0.02 }).sdS).toBeCloseTo(0.02, 9)
  const apart = together({ atS: 1, sdS: 0.02 }, { atS: 1.1, sdS: 0.02 })
  expect(apart.atS).toBeCloseTo(1.05, 9)
  expect(apart.sdS).toBeCloseTo(0.0539, 3)
})

test('a clear touch does not make an end sure at which the odds say that the dog may have stayed', () => {
  const end = together({ atS: 1, sdS: 0.01 }, { atS: 1, sdS: 0.15 })
  expect(end.sdS).toBeCloseTo(0.15, 9)
})

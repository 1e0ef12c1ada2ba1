import { expect, test } from 'vitest'
import { strideOf } from '../../../analysis/ride/stride.ts'
import { footfall } from './simulated-dog.ts'

/** A trot at 2 m/s with strides of 0.8 m: a front paw comes down every 0.2 s, a hind paw 0.1 s after it. */
const fronts = [0, 1, 2, 3, 4].map((k) => footfall(0.1 + 0.4 * k, 1 + 0.2 * k, 1.12 + 0.2 * k))
const hinds = [0, 1, 2, 3].map((k) => footfall(0.05 + 0.4 * k, 1.3 + 0.2 * k, 1.4 + 0.2 * k, { limb: 'hind' }))

test('a stride is from one footfall of a front paw to its next, the next but one of both', () => {
  const stride = strideOf([...fronts, ...hinds], 3.6)
  expect(stride).toMatchObject({ kind: 'measured', value: expect.closeTo(0.8) as number })
})

test('is withheld where one footfall in between was missed', () => {
  expect(strideOf([...fronts.filter((_, k) => k !== 2), ...hinds], 3.6)).toMatchObject({ reason: 'not-clear' })
})

test('needs no hind paws where front paws come down evenly', () => {
  expect(strideOf(fronts, 3.6)).toMatchObject({ kind: 'measured', value: expect.closeTo(0.8) as number })
})

test('is withheld where too few were seen', () => {
  expect(strideOf([...fronts.slice(0, 2), ...hinds], 3.6)).toMatchObject({ reason: 'not-seen' })
  expect(strideOf(fronts.slice(0, 3), 3.6)).toMatchObject({ reason: 'not-clear' })
})

import { expect, test } from 'vitest'
import { meanOdds } from '../../../analysis/dog/mean-odds.ts'
import type { PawOdds } from '../../../analysis/dog/paw-odds.ts'

const look = (p: number): PawOdds => {
  const map = Float32Array.of(p, 1 - p)
  return { fromS: 1, steps: 1, front: map, hind: map, lead: map, body: map, on: Float32Array.of(p) }
}

test('networks that agree are believed, and two that do not leave it open', () => {
  const agreed = meanOdds([look(0.75), look(0.75)])
  expect([...agreed.front]).toEqual([0.75, 0.25])
  const open = meanOdds([look(1), look(0)])
  expect([...open.on]).toEqual([0.5])
  expect([...open.lead]).toEqual([0.5, 0.5])
  expect([open.fromS, open.steps]).toEqual([1, 1])
})

test('what was looked at stays as it was', () => {
  const first = look(1)
  meanOdds([first, look(0)])
  expect([...first.front]).toEqual([1, 0])
})

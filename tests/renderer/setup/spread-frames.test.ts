import { expect, test } from 'vitest'
import { spreadFrames } from '../../../renderer/setup/spread-frames.ts'
import { firstFrames } from '../../../renderer/marking/first-frames.ts'

test('pictures of a strip are spread evenly and lie inside of the clip', () => {
  expect(spreadFrames(120, 4)).toEqual([15, 45, 75, 105])
})

test('a clip of few frames shows each once', () => {
  expect(spreadFrames(3, 12)).toEqual([0, 1, 2])
})

test('the search for the two moments begins inside of the stretch', () => {
  expect(firstFrames({ fromFrame: 100, toFrame: 300 }, 900)).toEqual({ rest: 100, grounded: 250 })
  expect(firstFrames(null, 101)).toEqual({ rest: 0, grounded: 75 })
})

import { expect, test } from 'vitest'
import { measured, withheld } from '../../../analysis/estimate.ts'
import { rideName } from '../../../analysis/words/ride-name.ts'
import { holdInWords, leavingInWords, zonesInWords } from '../../../renderer/lists/verdict-words.ts'

const unknown = withheld('clip-ends', 'The clip ends before.')

test('leaving is told with its margin where there is one', () => {
  expect(leavingInWords({ leaving: 'after-ground', leavingMargin: measured(1.043, 0.01) }).words).toBe(
    'Left 1.04 s after the landing',
  )
  expect(leavingInWords({ leaving: 'after-ground', leavingMargin: { kind: 'atLeast', value: 0.8 } }).words).toBe(
    'Still on 0.80 s after the landing',
  )
  expect(leavingInWords({ leaving: 'before-ground', leavingMargin: measured(-0.18, 0.01) }).words).toBe(
    'Left before the landing, by 0.18 s',
  )
  expect(leavingInWords({ leaving: 'before-ground', leavingMargin: unknown }).words).toBe('Left before the landing')
})

test('only zones that were not plainly touched are worth a line in a list', () => {
  expect(zonesInWords({ up: 'touched', down: 'touched' })).toEqual([])
  expect(zonesInWords({ up: 'unsure', down: 'missed' }).map(({ words }) => words)).toEqual([
    'Unsure: up contact',
    'Missed the down contact',
  ])
})

test('a hold that was not measured is not told', () => {
  expect(holdInWords(unknown)).toBeNull()
  expect(holdInWords(measured(0.224, 0.01))).toBe('held 0.22 s before it landed')
})

test('a ride is called by its dog and words, and the dog is not named twice', () => {
  expect(rideName({ title: '', dogName: null, fileName: 'a.mp4' })).toBe('a.mp4')
  expect(rideName({ title: 'second run', dogName: 'Juniper', fileName: 'a.mp4' })).toBe('Juniper, second run')
  expect(rideName({ title: 'Juniper in the rain', dogName: 'Juniper', fileName: 'a.mp4' })).toBe('Juniper in the rain')
})

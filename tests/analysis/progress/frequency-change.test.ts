import { expect, test } from 'vitest'
import { frequencyChanges, shuffledP } from '../../../analysis/progress/frequency-change.ts'
import { frequenciesInWords } from '../../../analysis/progress/frequency-words.ts'
import type { SeasonRide } from '../../../analysis/progress/season.ts'
import { seededRandom } from '../../../analysis/numeric/random.ts'
import { inventedSeason, PLAIN_DOG } from './invented-season.ts'

/** Rides on days in a row, three a day, on which the dog paused or not. */
function pausing(chance: (day: number) => number, days: number, seed = 1): readonly SeasonRide[] {
  const random = seededRandom(seed)
  const [plain] = inventedSeason(1, PLAIN_DOG, { rides: 1, spanDays: 1 })
  return Array.from({ length: 3 * days }, (_, index) => {
    const day = Math.floor(index / 3)
    return { ...plain!, index, day, board: 'Club board', paused: random.uniform() < chance(day) }
  })
}

const paused = (rides: readonly SeasonRide[]) =>
  frequencyChanges({ rides, criterion: null }, 0.015).find(({ what }) => what === 'paused')!

test('of seven numbers in rising order two orders of 5,040 go along as much', () => {
  // Closed form: only the rising and the falling order have the largest sum, 2 / 7! = 0.0004.
  expect(shuffledP([1, 2, 3, 4, 5, 6, 7])).toBeLessThan(0.002)
  // All orders of equal numbers are alike.
  expect(shuffledP([1, 1, 1, 1, 1, 1, 1])).toBe(1)
  // Four numbers: 2 of 24 orders (binomial sd of 3,999 shuffles 0.0044).
  expect(Math.abs(shuffledP([1, 2, 4, 8]) - 2 / 24)).toBeLessThan(0.016)
})

test('a dog that stops pausing is found to pause less often, and the sentence says on how many rides', () => {
  const change = paused(pausing((day) => (day < 8 ? 0.8 : 0.05), 16))
  expect(change).toMatchObject({ verdict: 'less', early: { of: 24 }, late: { of: 24 } })
  const [sentence] = frequenciesInWords('Wisp', [change])
  expect(sentence).toBe(
    `Wisp pauses on the plank less often than at the start: on ${change.early.count} of 24 rides in the first half of the days, on ${change.late.count} of 24 rides in the second.`,
  )
})

test('what changes with the board is no change of the dog, and five days are too few', () => {
  const rides = pausing((day) => (day < 8 ? 1 : 0), 16)
  expect(paused(rides).verdict).toBe('less')
  const switched = rides.map((ride) => ({ ...ride, board: ride.day! < 8 ? 'Garden board' : 'Club board' }))
  expect(paused(switched).verdict).toBe('unclear')
  expect(frequenciesInWords('Wisp', [paused(switched)])).toEqual([
    'How often each of these happens did not clearly change over the season.',
  ])
  // What never happens is not worth a word.
  expect(frequenciesInWords('Wisp', [paused(pausing(() => 0, 12))])).toEqual([])
  expect(paused(pausing((day) => (day < 3 ? 1 : 0), 5))).toMatchObject({ verdict: 'too-few', p: null })
})

test('where nothing changes hardly one or two seasons in a hundred is called, also when days differ', () => {
  const called = Array.from({ length: 200 }, (_, seed) => {
    const random = seededRandom(1000 + seed)
    const ofDay = Array.from({ length: 12 }, () => (random.uniform() < 0.5 ? 0.1 : 0.7))
    return paused(pausing((day) => ofDay[day]!, 12, seed)).verdict
  }).filter((verdict) => verdict !== 'unclear')
  // Binomial: 11 or more of 200 at 1.5 % is below 1 in 1000.
  expect(called.length).toBeLessThan(11)
})

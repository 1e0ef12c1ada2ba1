import { describe, expect, test } from 'vitest'
import { measured, withheld } from '../../../analysis/estimate.ts'
import type { RideCard, RidesQuery } from '../../../main/contract/rides.ts'
import { countedRides, foundRides } from '../../../main/services/rides-query.ts'
import { cardOf, meadowRide } from '../library/things.ts'

const all: RidesQuery = {
  words: '',
  dogId: null,
  boardId: null,
  leaving: null,
  sortBy: 'newest',
  offset: 0,
  limit: 50,
}

const plain = cardOf(meadowRide, {
  fileName: 'a.mp4',
  takenInAt: '2026-05-03',
  dogName: 'Juno',
  boardName: 'Club board',
  sample: null,
  inClip: { ride: 1, of: 1 },
})
/** Newest first. */
const cards: readonly RideCard[] = [
  { ...plain, id: 'zoe', dogName: 'Zoë', dogId: 'zoe', title: 'Rainy evening', note: '', hold: measured(0.2, 0.01) },
  { ...plain, id: 'nameless', dogName: null, dogId: null, hold: withheld('not-seen', 'Not seen.') },
  { ...plain, id: 'long', hold: { kind: 'atLeast', value: 2 }, leaving: 'before-ground', boardId: 'home' },
  { ...plain, id: 'half', note: 'RAIN and wind', fileName: 'IMG_0042.MOV' },
]
const ids = (query: Partial<RidesQuery>) => foundRides(cards, { ...all, ...query }).rides.map(({ id }) => id)

describe('words', () => {
  test.each([
    ['', ['zoe', 'nameless', 'long', 'half']],
    ['zoe', ['zoe']],
    ['ZOË', ['zoe']],
    ['rain', ['zoe', 'half']],
    ['rain wind', ['half']],
    ['  wind   rain ', ['half']],
    ['img_0042', ['half']],
    ['club', ['zoe', 'nameless', 'long', 'half']],
    ['.*', []],
  ])('%j finds %j', (words, found) => {
    expect(ids({ words })).toEqual(found)
  })

  test('words of two fields do not run together', () => {
    expect(ids({ words: 'boardrainy' })).toEqual([])
  })
})

test('rides are narrowed by dog, board and leaving', () => {
  expect(ids({ dogId: 'zoe' })).toEqual(['zoe'])
  expect(ids({ boardId: 'home' })).toEqual(['long'])
  expect(ids({ leaving: 'before-ground' })).toEqual(['long'])
  expect(ids({ dogId: 'zoe', leaving: 'before-ground' })).toEqual([])
})

test('rides without a value come last, whichever way the others go', () => {
  expect(ids({ sortBy: 'shortest-hold' })).toEqual(['zoe', 'half', 'long', 'nameless'])
  expect(ids({ sortBy: 'longest-hold' })).toEqual(['long', 'half', 'zoe', 'nameless'])
  expect(ids({ sortBy: 'dog' })).toEqual(['long', 'half', 'zoe', 'nameless'])
  expect(ids({ sortBy: 'oldest' })).toEqual(['half', 'long', 'nameless', 'zoe'])
})

test('a page is cut from all that fit, and their number is told', () => {
  const page = foundRides(cards, { ...all, offset: 1, limit: 2 })
  expect(page.total).toBe(4)
  expect(page.rides.map(({ id }) => id)).toEqual(['nameless', 'long'])
  expect(foundRides(cards, { ...all, offset: 9 })).toEqual({ total: 4, rides: [] })
})

test('rides are counted by dog and by board, with the day of the newest', () => {
  const older = { ...plain, takenInAt: '2026-04-01' }
  expect(countedRides([...cards, older])).toEqual({
    dogs: { zoe: { rides: 1, lastAt: '2026-05-03' }, juno: { rides: 3, lastAt: '2026-05-03' } },
    boards: { club: { rides: 4, lastAt: '2026-05-03' }, home: { rides: 1, lastAt: '2026-05-03' } },
  })
  expect(countedRides([])).toEqual({ dogs: {}, boards: {} })
})

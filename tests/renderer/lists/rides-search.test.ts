import { expect, test } from 'vitest'
import { EVERYTHING, queryOfSearch, searchOfQuery } from '../../../renderer/lists/rides-search.ts'

const narrowed = {
  ...EVERYTHING,
  words: 'windy & wet',
  dogId: 'juno',
  boardId: 'club',
  leaving: 'too-close',
  film: 'not-filmed',
  sortBy: 'longest-hold',
  offset: 48,
} as const

test('an address finds the list as it was', () => {
  const address = searchOfQuery(narrowed).toString()
  expect(queryOfSearch(new URLSearchParams(address))).toEqual(narrowed)
})

test('all rides have the shortest address', () => {
  expect(searchOfQuery(EVERYTHING).toString()).toBe('')
  expect(queryOfSearch(new URLSearchParams(''))).toEqual(EVERYTHING)
})

test('an address that no list has shows all rides', () => {
  for (const address of ['left=sideways', 'order=best', 'from=-3', 'from=x'])
    expect(queryOfSearch(new URLSearchParams(address))).toEqual(EVERYTHING)
})

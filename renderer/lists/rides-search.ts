import { type RidesQuery, ridesQuery } from '../../main/contract/rides.ts'

/** Rides on one page of the list. */
export const PAGE = 24

/** All rides, the newest first. */
export const EVERYTHING: RidesQuery = {
  words: '',
  dogId: null,
  boardId: null,
  leaving: null,
  sortBy: 'newest',
  offset: 0,
  limit: PAGE,
}

/** What an address of the list asks for, so that going back finds it as it was; `/rides?dog=ID` is all of a dog. */
export function queryOfSearch(search: URLSearchParams): RidesQuery {
  const asked = {
    ...EVERYTHING,
    words: search.get('words') ?? '',
    dogId: search.get('dog'),
    boardId: search.get('board'),
    leaving: search.get('left'),
    sortBy: search.get('order') ?? EVERYTHING.sortBy,
    offset: Number(search.get('from') ?? 0),
  }
  const parsed = ridesQuery.safeParse(asked)
  return parsed.success ? parsed.data : EVERYTHING
}

/** The address of a query: only what differs from all rides. */
export function searchOfQuery(query: RidesQuery): URLSearchParams {
  const search = new URLSearchParams()
  if (query.words !== '') search.set('words', query.words)
  if (query.dogId !== null) search.set('dog', query.dogId)
  if (query.boardId !== null) search.set('board', query.boardId)
  if (query.leaving !== null) search.set('left', query.leaving)
  if (query.sortBy !== EVERYTHING.sortBy) search.set('order', query.sortBy)
  if (query.offset > 0) search.set('from', String(query.offset))
  return search
}

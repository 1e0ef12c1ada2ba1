import { type AllRidesQuery, allRidesQuery } from '../../main/contract/rides.ts'

/** Rides on one page of the list. */
export const PAGE = 24

/** All rides, the newest first. */
export const EVERYTHING: AllRidesQuery = {
  words: '',
  dogId: null,
  boardId: null,
  leaving: null,
  film: 'any',
  sortBy: 'newest',
  offset: 0,
  limit: PAGE,
}

/** What an address of the list asks for, so that going back finds it as it was; `/rides?dog=ID` is all of a dog. */
export function queryOfSearch(search: URLSearchParams): AllRidesQuery {
  const asked = {
    ...EVERYTHING,
    words: search.get('words') ?? '',
    dogId: search.get('dog'),
    boardId: search.get('board'),
    leaving: search.get('left'),
    film: search.get('film') ?? EVERYTHING.film,
    sortBy: search.get('order') ?? EVERYTHING.sortBy,
    offset: Number(search.get('from') ?? 0),
  }
  const parsed = allRidesQuery.safeParse(asked)
  return parsed.success ? parsed.data : EVERYTHING
}

/** The address of a query: only what differs from all rides. */
export function searchOfQuery(query: AllRidesQuery): URLSearchParams {
  const search = new URLSearchParams()
  if (query.words !== '') search.set('words', query.words)
  if (query.dogId !== null) search.set('dog', query.dogId)
  if (query.boardId !== null) search.set('board', query.boardId)
  if (query.leaving !== null) search.set('left', query.leaving)
  if (query.film !== EVERYTHING.film) search.set('film', query.film)
  if (query.sortBy !== EVERYTHING.sortBy) search.set('order', query.sortBy)
  if (query.offset > 0) search.set('from', String(query.offset))
  return search
}

import { expect, test } from 'vitest'
import type { NotedRideInput } from '../../../main/contract/noted-rides.ts'
import type { Outcome } from '../../../main/contract/outcome.ts'
import type { AllRidesQuery } from '../../../main/contract/rides.ts'
import { NO_SESSION } from '../../../main/contract/sessions.ts'
import { notedServices } from '../../../main/services/noted-services.ts'
import { ridesServices } from '../../../main/services/rides-services.ts'
import { filledLibrary } from '../library/things.ts'

const everything: AllRidesQuery = {
  words: '',
  dogId: null,
  boardId: null,
  leaving: null,
  film: 'any',
  sortBy: 'newest',
  offset: 0,
  limit: 24,
}
const byHand: NotedRideInput = {
  dogId: 'juno',
  boardId: null,
  session: { ...NO_SESSION, day: '2026-09-20', venue: 'Hill field', tags: ['wet'] },
  leftEarly: 'yes',
  note: 'no film that day',
}

async function services() {
  const library = await filledLibrary()
  await library.rides.changeSession('ride-1', () => ({ ...NO_SESSION, day: '2026-05-03', tags: ['wet', 'warm-up'] }))
  const noted = valueOf(await notedServices(library)['noted.keep']({ id: null, ride: byHand }))
  const rides = ridesServices(library)
  const ids = async (query: Partial<AllRidesQuery>) =>
    valueOf(await rides['rides.listAll']({ ...everything, ...query })).rides.map(({ id }) => id)
  return { library, rides, noted, ids }
}

test('rides without a film stand among the others by their day, marked, and can be found and left out', async () => {
  const { rides, noted, ids } = await services()
  const all = valueOf(await rides['rides.listAll'](everything)).rides
  expect(all.map((ride) => [ride.id, 'origin' in ride ? ride.origin : 'filmed'])).toEqual([
    [noted.id, 'by-hand'],
    ['ride-1', 'filmed'],
  ])
  expect(all[0]).toMatchObject({ dogName: 'Juno', boardName: null, leaving: 'before-ground', note: 'no film that day' })
  expect(await ids({ sortBy: 'oldest' })).toEqual(['ride-1', noted.id])
  expect(await ids({ film: 'filmed' })).toEqual(['ride-1'])
  expect(await ids({ film: 'not-filmed' })).toEqual([noted.id])
  expect(await ids({ leaving: 'before-ground', film: 'not-filmed' })).toEqual([noted.id])
  expect(await ids({ words: 'hill wet' })).toEqual([noted.id])
})

test('a ride whose facts make no sense is listed, and nothing is said of it', async () => {
  const { library, rides } = await services()
  const facts = { leaving: 'soon', measures: [{ holdBeforeGroundS: { kind: 'measured', value: 'long' } }] }
  await library.noted.put({
    id: 'odd',
    dogId: null,
    boardId: null,
    session: NO_SESSION,
    note: '',
    origin: 'file',
    facts,
  })
  const all = valueOf(await rides['rides.listAll'](everything)).rides
  expect(all.at(-1)).toMatchObject({ id: 'odd', leaving: null, hold: { kind: 'withheld' } })
})

test('a tag is taken off one ride or off many, and the other tags stay', async () => {
  const { library, rides, noted } = await services()
  const rideIds = ['ride-1', noted.id]
  expect(valueOf(await rides['rides.tags']({ rideIds }))).toEqual([
    { tag: 'wet', rides: 2 },
    { tag: 'warm-up', rides: 1 },
  ])
  await rides['rides.setSession']({ rideIds, change: { dropTags: ['wet'] } })
  expect(valueOf(await rides['rides.tags']({ rideIds }))).toEqual([{ tag: 'warm-up', rides: 1 }])
  expect(library.noted.get(noted.id)?.session).toMatchObject({ venue: 'Hill field', tags: [] })
  await rides['rides.setSession']({ rideIds: ['ride-1'], change: { dropTags: ['warm-up'], addTags: ['dry'] } })
  expect(valueOf(await rides['rides.tags']({ rideIds }))).toEqual([{ tag: 'dry', rides: 1 }])
})

function valueOf<T>(outcome: Outcome<T>): T {
  if (!outcome.ok) throw new Error(outcome.error.message)
  return outcome.value
}

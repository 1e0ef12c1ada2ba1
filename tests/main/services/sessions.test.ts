import { expect, test } from 'vitest'
import type { NotedRideInput } from '../../../main/contract/noted-rides.ts'
import type { Outcome } from '../../../main/contract/outcome.ts'
import { changedSession, NO_SESSION } from '../../../main/contract/sessions.ts'
import { dogsServices } from '../../../main/services/dogs-services.ts'
import { notedServices } from '../../../main/services/noted-services.ts'
import { ridesServices } from '../../../main/services/rides-services.ts'
import { filledLibrary, juno, meadowRide } from '../library/things.ts'

const byHand: NotedRideInput = { dogId: 'juno', boardId: 'club', session: NO_SESSION, leftEarly: 'yes', note: '' }

test('what is left out of a change stays as it is in each ride, and tags are kept once each', () => {
  const session = { ...NO_SESSION, venue: 'Hill field', tags: ['wet', 'new board'] }
  const changed = changedSession(session, { day: '2026-05-14', addTags: ['wet', 'warm-up'], dropTags: ['new board'] })
  expect(changed).toEqual({ ...session, day: '2026-05-14', tags: ['wet', 'warm-up'] })
})

test('day, place and purpose are set for filmed and noted rides at once, and outlast a restart', async () => {
  const library = await filledLibrary()
  await library.rides.put({ ...meadowRide, id: 'ride-2', session: { ...NO_SESSION, handler: 'Ida' } })
  const noted = valueOf(await notedServices(library)['noted.keep']({ id: null, ride: byHand }))
  const rideIds = ['ride-1', 'ride-2', noted.id, 'gone']
  const change = { day: '2026-05-14', venue: 'Hill field', purpose: 'show' as const }
  expect(valueOf(await ridesServices(library)['rides.setSession']({ rideIds, change }))).toEqual({ changed: 3 })
  await library.close()
  const again = await filledLibrary(library.folder)
  const told = { day: '2026-05-14', venue: 'Hill field', purpose: 'show' }
  expect(again.rides.cards().find(({ id }) => id === 'ride-2')?.session).toEqual({
    ...NO_SESSION,
    ...told,
    handler: 'Ida',
  })
  expect(again.noted.get(noted.id)?.session).toMatchObject(told)
})

test('the day of the film goes before the day of the import when rides are put in order', async () => {
  const library = await filledLibrary()
  await library.rides.put({ ...meadowRide, id: 'older', session: { ...NO_SESSION, day: '2026-04-01' } })
  await library.rides.put({ ...meadowRide, id: 'newer', session: { ...NO_SESSION, day: '2026-05-20' } })
  expect(library.rides.cards().map(({ id }) => id)).toEqual(['newer', 'ride-1', 'older'])
})

test('a ride by hand says what was told and no more, and goes into the bin and back with its dog', async () => {
  const library = await filledLibrary()
  const services = notedServices(library)
  const { id, facts, origin } = valueOf(await services['noted.keep']({ id: null, ride: byHand }))
  expect({ facts, origin }).toEqual({ facts: { leaving: { verdict: 'before-ground' } }, origin: 'by-hand' })
  const unknown = valueOf(await services['noted.keep']({ id, ride: { ...byHand, leftEarly: 'unknown' } }))
  expect(unknown.facts).toEqual({})
  const removed = await library.dogs.remove('juno')
  expect(removed).toMatchObject({ kind: 'dog', rides: 1 })
  expect(library.noted.list()).toEqual([])
  await library.bin.putBack(removed!.removedId)
  expect(library.noted.get(id)).toEqual(unknown)
})

test('the numbers of a ride that was measured elsewhere are not typed over', async () => {
  const library = await filledLibrary()
  await library.noted.put({
    id: 'n',
    dogId: 'juno',
    boardId: null,
    session: NO_SESSION,
    note: '',
    origin: 'file',
    facts: {},
  })
  expect(await notedServices(library)['noted.keep']({ id: 'n', ride: byHand })).toMatchObject({
    ok: false,
    error: { code: 'refused' },
  })
})

test('a dog weighed on another day keeps the earlier weight; on the same day it is corrected', async () => {
  const library = await filledLibrary()
  const { id, bodyBefore, ...dog } = juno
  const keep = async (massKg: number, bodyDay: string) =>
    valueOf(await dogsServices(library)['dogs.keep']({ id, dog: { ...dog, massKg, bodyDay } }))
  expect(bodyBefore).toEqual([])
  await keep(17, '2026-03-01')
  await keep(17.5, '2026-03-01')
  expect((await keep(18.5, '2026-05-01')).bodyBefore).toEqual([{ day: '2026-03-01', withersM: 0.5, massKg: 17.5 }])
})

function valueOf<T>(outcome: Outcome<T>): T {
  if (!outcome.ok) throw new Error(outcome.error.message)
  return outcome.value
}

import { join } from 'node:path'
import { expect, test } from 'vitest'
import type { Outcome } from '../../../main/contract/outcome.ts'
import { NO_SESSION } from '../../../main/contract/sessions.ts'
import { currentRide } from '../../../main/library/ride-card.ts'
import { libraryRides } from '../../../main/outputs/progress/library-rides.ts'
import { type SeasonFile, seasonFiles } from '../../../main/outputs/progress/season-files.ts'
import { dogOfRides, parseRides } from '../../../main/outputs/progress/rides-file.ts'
import { seasonSample } from '../../../main/services/season-sample.ts'
import { filledLibrary, juno, meadowRide, testLibrary } from '../library/things.ts'

const SEASON = join(import.meta.dirname, '../../../sample-clips/season')

test('filmed rides, corrected ones and rides by hand come out of the library as a file of rides', async () => {
  const library = await filledLibrary()
  await library.rides.changeSession('ride-1', () => ({
    ...NO_SESSION,
    day: '2026-05-03',
    surface: 'grass',
    purpose: 'show',
  }))
  await library.rides.change('ride-1', {
    corrections: { ...meadowRide.corrections, zones: { down: 'missed' } },
  })
  await library.noted.put({
    id: 'told',
    dogId: 'juno',
    boardId: 'club',
    session: { ...NO_SESSION, day: '2026-05-01' },
    note: '',
    origin: 'by-hand',
    facts: { leaving: { verdict: 'before-ground' } },
  })
  const file = await libraryRides(library)({ dogIds: ['juno'] })
  expect(file.rides.map(({ rideId, isFilmed }) => [rideId, isFilmed])).toEqual([
    ['told', false],
    ['ride-1', true],
  ])
  const season = valueOf(dogOfRides(valueOf(parseRides(file, 'library')), 'Juno')).season
  const corrections = { ...meadowRide.corrections, zones: { down: 'missed' as const } }
  const { measures } = currentRide(meadowRide.record, corrections)
  expect(season.rides[0]).toMatchObject({ byHand: true, leaving: 'before-ground', measures: {} })
  expect(season.rides[1]).toMatchObject({
    byHand: false,
    board: 'Club board',
    purpose: 'show',
    surface: 'grass',
    downZone: 'missed',
    measures: { leavingMarginS: measures.leavingMarginS },
  })
})

test('a ride that was corrected since is read anew', async () => {
  const library = await filledLibrary()
  const read = libraryRides(library)
  const down = async () =>
    ((await read({})).rides[0] as unknown as { zones: { down: { verdict: string } } }).zones.down.verdict
  const before = await down()
  const other = before === 'missed' ? 'touched' : 'missed'
  await library.rides.change('ride-1', { corrections: { ...meadowRide.corrections, zones: { down: other } } })
  expect(await down()).toBe(other)
})

test('what was said of a ride stands in the files of its dog, and is text there and nothing else', async () => {
  const library = await filledLibrary()
  const read = libraryRides(library)
  expect((await read({})).rides[0]).not.toHaveProperty('comments')
  const author = { id: 'b'.repeat(16), name: 'Cora' }
  const head = { id: `${author.id}.${'0'.repeat(12)}`, author, version: 1, madeAt: '', isRemoved: false }
  const text = '<img src=x onerror=alert(1)> drives well'
  await library.rides.review('ride-1', [{ ...head, kind: 'comment', atS: 1.4, toS: null, text, strokes: [] }])
  const line = { who: 'Cora', when: '1.40 s', what: text }

  const dog = valueOf(dogOfRides(valueOf(parseRides(await read({}), 'library')), 'Juno'))
  const { make } = seasonFiles(dog)
  const textOf = async (name: SeasonFile) => new TextDecoder().decode(await make(name))
  expect(JSON.parse(await textOf('dog.json'))).toMatchObject({ comments: [{ ride: 0, ...line }] })
  expect(JSON.parse(await textOf('rides.json'))).toMatchObject({ rides: [{ comments: [line] }] })
  const html = await textOf('dog.html')
  expect(html).toContain('Cora, 1.40 s: &lt;img src=x onerror=alert(1)&gt; drives well')
  expect(html).not.toContain('<img src=x')
})

test('two dogs with one name stay two dogs', async () => {
  const library = await filledLibrary()
  await library.dogs.put({ ...juno, id: 'other' })
  await library.rides.put({ ...meadowRide, id: 'ride-2', dogId: 'other' })
  const { rides } = await libraryRides(library)({})
  expect(rides.map((ride) => ride['dog']).sort()).toEqual(['Juno', 'Juno (2)'])
})

test('the invented season comes in whole and once, is marked as invented, and goes with its dogs', async () => {
  const library = await testLibrary()
  const sample = seasonSample(library, SEASON)
  for (let time = 0; time < 2; time++) valueOf(await sample['samples.takeInSeason']({}))
  expect([library.dogs, library.boards, library.noted].map((shelf) => shelf.list().length)).toEqual([3, 4, 60])
  expect(library.noted.list().every(({ origin }) => origin === 'invented')).toBe(true)
  expect(library.dogs.list().every(({ note }) => note.includes('Invented'))).toBe(true)
  for (const { id } of library.dogs.list()) await library.dogs.remove(id)
  expect(library.noted.list()).toEqual([])
})

function valueOf<T>(outcome: Outcome<T> | { ok: true; value: T } | { ok: false; message: string }): T {
  if (!outcome.ok) throw new Error(JSON.stringify(outcome))
  return outcome.value
}

/**
 * `npm run bench:library`: how long a library of 10,000 rides takes to open, to change and to be searched. Its rides
 * have 24 footfalls each; the one that is put has a record as long as that of a ten-second clip at 60 Hz.
 */
import { mkdir, mkdtemp, readFile, rm, stat, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { RidesQuery } from '../../main/contract/rides.ts'
import type { Kept } from '../../main/library/kept-files.ts'
import type { KeptRide } from '../../main/library/library.ts'
import { openLibrary, type OpenLibrary } from '../../main/library/open-library.ts'
import { libraryRides } from '../../main/outputs/progress/library-rides.ts'
import { foundRides } from '../../main/services/rides-query.ts'
import { ridesServices } from '../../main/services/rides-services.ts'
import { juno, meadowClip, meadowRide } from '../main/library/things.ts'

const rideCount = 10_000
const dogCount = 40

const folder = await mkdtemp(join(tmpdir(), 'library-bench-'))
try {
  await fill(folder)
  const rebuilt = await timed('opening without an index (made anew from the cards)', () => openLibrary(folder))
  await rebuilt.dogs.put({ ...juno, id: 'dog-0', note: 'changed' })
  await timed('closing after a change (writes the index)', () => rebuilt.close())
  const indexMb = (await stat(join(folder, 'index.json'))).size / 1e6
  const library = await timed(`opening (index of ${indexMb.toFixed(1)} MB)`, () => openLibrary(folder))
  await put(library)
  query(library)
  const inShort = await timed('all rides in short, for who needs attention', () =>
    libraryRides(library)({ inShort: true }),
  )
  console.log(`${inShort.rides.length} rides of ${inShort.dogs.length} dogs`)
  const told = inShort.rides.slice(0, 200).map(({ rideId }) => rideId)
  const day = { change: { day: '2026-05-14', purpose: 'training' as const } }
  await timed('saying the same of 200 rides', () =>
    ridesServices(library)['rides.setSession']({ rideIds: told, ...day }),
  )
  const backup = await timed('backing up into one file', () => library.backUp(join(folder, '..', 'library-bench.zip')))
  console.log(`${(backup.bytes / 1e6).toFixed(0)} MB, ${backup.files} files`)
  await rm(backup.path)
  await timed('closing', () => library.close())
  console.log(`memory in use ${(process.memoryUsage().rss / 1e6).toFixed(0)} MB`)
} finally {
  await rm(folder, { recursive: true })
}

async function put(library: OpenLibrary): Promise<void> {
  const ride = longRide()
  const times = await timesOf(20, (k) => library.rides.put({ ...ride, id: `new-${k}` }))
  tell('putting a ride', times)
  const corrections = { ...ride.corrections, events: { left: { kind: 'at' as const, atS: 4.5 } } }
  tell('correcting a ride', await timesOf(20, (k) => library.rides.change(`new-${k}`, { corrections })))
  tell('reading a ride', await timesOf(20, (k) => library.rides.get(`new-${k}`)))
  tell('changing a clip', await timesOf(20, () => library.clips.put({ ...library.clips.get('meadow')!, sizeBytes: 7 })))
}

function query(library: OpenLibrary): void {
  const all: RidesQuery = {
    words: '',
    dogId: null,
    boardId: null,
    leaving: null,
    sortBy: 'newest',
    offset: 0,
    limit: 50,
  }
  const queries: readonly (readonly [string, RidesQuery])[] = [
    ['all, newest first', all],
    ['two words', { ...all, words: 'club windy' }],
    ['one dog, longest hold first', { ...all, dogId: 'dog-7', sortBy: 'longest-hold' }],
    ['all by dog, the last page', { ...all, sortBy: 'dog', offset: rideCount - 50 }],
  ]
  const startMs = performance.now()
  library.rides.cards()
  console.log(`first list after a change: ${(performance.now() - startMs).toFixed(0)} ms`)
  for (const [name, one] of queries) {
    const times: number[] = []
    for (let k = 0; k < 10; k++) {
      const beganMs = performance.now()
      foundRides(library.rides.cards(), one)
      times.push(performance.now() - beganMs)
    }
    tell(`finding ${name}`, times)
  }
}

/** Writes cards as the library does, without records and without waiting for the disk. */
async function fill(into: string): Promise<void> {
  const seed = await openLibrary(into)
  for (let k = 0; k < dogCount; k++) await seed.dogs.put({ ...juno, id: `dog-${k}`, name: `Dog ${k}` })
  await seed.boards.put({ id: 'club', name: 'Club board', shape: meadowRide.record.picture.board, note: '' })
  await seed.clips.put(meadowClip)
  await seed.rides.put(longRide())
  await seed.close()
  const clip = await readCard(into, 'clips', 'meadow')
  const ride = await readCard(into, 'rides', 'ride-1')
  for (let k = 0; k < rideCount; k++) {
    const takenInAt = new Date(Date.UTC(2025, 0, 1) + k * 3_600_000).toISOString()
    await writeCard(into, 'clips', { ...clip, addedAt: k, card: { ...clip.card, id: `clip-${k}`, takenInAt } })
    const said = { id: `r-${k}`, clipId: `clip-${k}`, dogId: `dog-${k % dogCount}`, title: `Run ${k}` }
    await writeCard(into, 'rides', { ...ride, addedAt: k, card: { ...ride.card, ...said } })
  }
  await rm(join(into, 'index.json'))
}

type AnyKept = Kept<Readonly<Record<string, unknown>> & { readonly id: string }>

async function readCard(from: string, kind: string, id: string): Promise<AnyKept> {
  return JSON.parse(await readFile(join(from, kind, id, 'card.json'), 'utf8')) as AnyKept
}

async function writeCard(into: string, kind: string, kept: AnyKept): Promise<void> {
  const place = join(into, kind, kept.card.id)
  await mkdir(place)
  await writeFile(join(place, 'card.json'), JSON.stringify(kept))
}

/** The sample ride with 600 frames and 24 footfalls. */
function longRide(): KeptRide {
  const { record } = meadowRide
  const stretched = <T>(list: readonly T[]): T[] =>
    Array.from({ length: 600 }, (_, k) => {
      const value = list[Math.floor((k * list.length) / 600)]!
      // As many digits as a measured number has.
      return (typeof value === 'number' ? value + Math.sin(k) / 1e3 : value) as T
    })
  const curves = <T extends object>(lists: T): T => {
    const entries: [string, unknown][] = Object.entries(lists)
    const long = (value: unknown) =>
      Array.isArray(value) && value.length === 51 ? stretched(value as unknown[]) : value
    return Object.fromEntries(entries.map(([field, value]) => [field, long(value)])) as T
  }
  const times = Array.from({ length: 600 }, (_, k) => (k * 5) / 600)
  const footfalls = <T>(list: readonly T[]): T[] => Array.from({ length: 24 }, (_, k) => list[k % list.length]!)
  const { measured, dog, track, picture } = record
  return {
    ...meadowRide,
    record: {
      measured: {
        ...measured,
        footfalls: footfalls(measured.footfalls),
        frames: { ...curves(measured.frames), ptsS: times },
      },
      dog: { ...curves(dog), ptsS: times, footfalls: footfalls(dog.footfalls) },
      track: { ...curves(track), ptsS: times, seen: times.map(() => 1) },
      picture: curves(picture),
    },
  }
}

async function timed<T>(name: string, work: () => Promise<T>): Promise<T> {
  const startMs = performance.now()
  const result = await work()
  console.log(`${name}: ${(performance.now() - startMs).toFixed(0)} ms`)
  return result
}

async function timesOf(count: number, work: (k: number) => Promise<unknown>): Promise<number[]> {
  const times: number[] = []
  for (let k = 0; k < count; k++) {
    const startMs = performance.now()
    await work(k)
    times.push(performance.now() - startMs)
  }
  return times
}

function tell(name: string, timesMs: readonly number[]): void {
  const sorted = timesMs.toSorted((a, b) => a - b)
  const [median, worst] = [sorted[Math.floor(sorted.length / 2)]!, sorted[sorted.length - 1]!]
  console.log(`${name}: median ${median.toFixed(1)} ms, worst ${worst.toFixed(1)} ms`)
}

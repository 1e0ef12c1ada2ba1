import { mkdtemp, readdir, readFile, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join, relative } from 'node:path'
import { onTestFinished } from 'vitest'
import { reviewTexts } from '../../../analysis/review/review-words.ts'
import { NO_CORRECTIONS, type RideCard } from '../../../main/contract/rides.ts'
import type { Dog, KeptBoard } from '../../../main/contract/dogs-and-boards.ts'
import { NO_SESSION } from '../../../main/contract/sessions.ts'
import type { KeptClip, KeptRide } from '../../../main/library/library.ts'
import { type LibraryOptions, openLibrary, type OpenLibrary } from '../../../main/library/open-library.ts'
import { type CardNames, currentRide, valuesOf } from '../../../main/library/ride-card.ts'
import { rideRecordOf } from '../../../main/library/ride-record.ts'
import { sampleBoard, sampleMeasured } from '../outputs/report/sample-ride.ts'

export const juno: Dog = {
  id: 'juno',
  name: 'Juno',
  withersM: 0.5,
  massKg: 18,
  bodyDay: null,
  bodyBefore: [],
  bornInMonth: '2021-04',
  criterion: null,
  note: '',
}

export const clubBoard: KeptBoard = { id: 'club', name: 'Club board', shape: sampleBoard, note: '' }

export const meadowClip: KeptClip = {
  id: 'meadow',
  takenInAt: '2026-05-03T10:00:00.000Z',
  filmedOn: null,
  path: '/films/meadow.mp4',
  sizeBytes: 1234,
  facts: {
    fileName: 'meadow.mp4',
    sha256: 'c0ffee'.padEnd(64, '0'),
    widthPx: 320,
    heightPx: 180,
    frameCount: 51,
    fileDurationS: 5.1,
    averageRateHz: 10,
    hasSound: true,
    notes: [],
  },
  frameTimesS: Array.from({ length: 51 }, (_, k) => k / 10),
  slowMotion: { factor: 1, evidence: 'The file does not say that it is slowed.', isSure: false },
  setup: { stretch: null, travel: null, slowMotion: null, dogId: null, boardId: null, title: '' },
  marks: { rest: null, grounded: null, neverLands: false },
  sample: null,
}

export const meadowRide: KeptRide = {
  id: 'ride-1',
  clipId: 'meadow',
  dogId: 'juno',
  boardId: 'club',
  title: 'Second run',
  note: 'windy',
  session: NO_SESSION,
  corrections: NO_CORRECTIONS,
  review: [],
  record: rideRecordOf(sampleMeasured),
}

/** An empty folder, gone after the test. */
export async function testFolder(): Promise<string> {
  const folder = await mkdtemp(join(tmpdir(), 'library-'))
  onTestFinished(() => rm(folder, { recursive: true, force: true }))
  return folder
}

/** A library that is closed after the test. */
export async function testLibrary(folder?: string, options: LibraryOptions = {}): Promise<OpenLibrary> {
  const place = folder ?? (await testFolder())
  const library = await openLibrary(place, options)
  onTestFinished(() => library.close())
  return library
}

/** A library with one of each, and the names that belong together. */
export async function filledLibrary(folder?: string, options: LibraryOptions = {}): Promise<OpenLibrary> {
  const library = await testLibrary(folder, options)
  await library.dogs.put(juno)
  await library.boards.put(clubBoard)
  await library.clips.put(meadowClip)
  await library.rides.put(meadowRide)
  return library
}

/** The card of a ride beside other things of these names. */
export function cardOf(ride: KeptRide, names: CardNames): RideCard {
  const { id, clipId, dogId, boardId, title, note, session, review, record, corrections } = ride
  const values = valuesOf(currentRide(record, corrections), record.picture, corrections)
  return { id, clipId, dogId, boardId, title, note, session, comments: reviewTexts(review), ...names, ...values }
}

/** Every file below a folder with what is in it. */
export async function filesIn(folder: string): Promise<Record<string, string>> {
  const entries = await readdir(folder, { recursive: true, withFileTypes: true })
  const found: Record<string, string> = {}
  for (const entry of entries.filter((one) => one.isFile())) {
    const path = join(entry.parentPath, entry.name)
    found[relative(folder, path)] = (await readFile(path)).toString('base64')
  }
  return found
}

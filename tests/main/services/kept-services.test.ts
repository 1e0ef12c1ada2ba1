import { mkdir, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import type { Outcome } from '../../../main/contract/outcome.ts'
import { NO_CORRECTIONS, type RideCorrections } from '../../../main/contract/rides.ts'
import { FIRST_SETTINGS } from '../../../main/contract/settings.ts'
import { boardsServices } from '../../../main/services/boards-services.ts'
import { dogsServices } from '../../../main/services/dogs-services.ts'
import { libraryServices } from '../../../main/services/library-services.ts'
import { ridesServices } from '../../../main/services/rides-services.ts'
import { settingsServices } from '../../../main/services/settings-services.ts'
import { clubBoard, filledLibrary, juno, meadowRide, testFolder } from '../library/things.ts'

function valueOf<T>(outcome: Outcome<T>): T {
  if (!outcome.ok) throw new Error(outcome.error.message)
  return outcome.value
}

const NO_FILES = { pathOf: () => null, letGo: () => Promise.resolve() }

const newDog = {
  name: 'Juno',
  withersM: 0.5,
  massKg: 18,
  bodyDay: null,
  bornInMonth: '2021-04',
  criterion: null,
  note: '',
}

describe('dogs', () => {
  test('a new dog gets an id of its own and is listed first', async () => {
    const dogs = dogsServices(await filledLibrary())
    const kept = valueOf(await dogs['dogs.keep']({ id: null, dog: { ...newDog, name: 'Moth' } }))
    expect(valueOf(await dogs['dogs.list']({})).map(({ id, name }) => [id, name])).toEqual([
      [kept.id, 'Moth'],
      ['juno', 'Juno'],
    ])
  })

  test('a dog is changed in its place', async () => {
    const dogs = dogsServices(await filledLibrary())
    await dogs['dogs.keep']({ id: 'juno', dog: { ...newDog, name: 'Juno II' } })
    expect(valueOf(await dogs['dogs.list']({}))).toEqual([{ ...juno, name: 'Juno II' }])
  })

  test('rides of a removed dog stay, without it', async () => {
    const library = await filledLibrary()
    await dogsServices(library)['dogs.remove']({ id: 'juno' })
    expect(valueOf(await ridesServices(library)['rides.get']({ rideId: 'ride-1' })).card.dogName).toBeNull()
  })
})

describe('boards', () => {
  test.each([
    ['contactM', { ...clubBoard.shape, contactM: 1.83 }],
    ['pivotHeightM', { ...clubBoard.shape, lengthM: 2, contactM: 0.5, pivotHeightM: 1.1 }],
  ])('a board whose %s reaches half its length is refused as in a board file', async (field, shape) => {
    const boards = boardsServices(await filledLibrary())
    const outcome = await boards['boards.keep']({ id: null, board: { name: 'Odd', shape, note: '' } })
    expect(outcome).toMatchObject({ ok: false, error: { code: 'bad-input' } })
    expect(outcome.ok ? '' : outcome.error.message).toMatch(new RegExp(`^${field} must be less than half of lengthM`))
    expect(valueOf(await boards['boards.list']({}))).toEqual([clubBoard])
  })

  test('a sound board is kept', async () => {
    const boards = boardsServices(await filledLibrary())
    const kept = valueOf(
      await boards['boards.keep']({ id: null, board: { name: 'Home', shape: clubBoard.shape, note: '' } }),
    )
    expect(valueOf(await boards['boards.list']({}))).toEqual([kept, clubBoard])
    await boards['boards.remove']({ id: kept.id })
    expect(valueOf(await boards['boards.list']({}))).toEqual([clubBoard])
  })
})

describe('rides', () => {
  test('a ride is given with everything that shows, proves and corrects it', async () => {
    const rides = ridesServices(await filledLibrary())
    const detail = valueOf(await rides['rides.get']({ rideId: 'ride-1' }))
    const { measured, dog, track, picture } = JSON.parse(JSON.stringify(meadowRide.record)) as typeof meadowRide.record
    expect(detail).toMatchObject({ measured, current: measured, dog, track, picture, corrections: NO_CORRECTIONS })
    expect(valueOf(await rides['rides.list'](everything)).rides).toEqual([detail.card])
  })

  test('a correction changes the ride as it is now, not what was measured, and can be reverted', async () => {
    const rides = ridesServices(await filledLibrary())
    const before = valueOf(await rides['rides.get']({ rideId: 'ride-1' }))
    const corrections: RideCorrections = { ...NO_CORRECTIONS, events: { left: { kind: 'at', atS: 4.5 } } }
    const corrected = valueOf(await rides['rides.correct']({ rideId: 'ride-1', corrections }))
    expect(corrected.measured).toEqual(before.measured)
    expect(corrected.current.measures.leavingMarginS).toMatchObject({ kind: 'measured', value: 1.5 })
    expect(corrected.card.isCorrected).toBe(true)
    expect(corrected).toEqual(valueOf(await rides['rides.get']({ rideId: 'ride-1' })))
    expect(valueOf(await rides['rides.correct']({ rideId: 'ride-1', corrections: NO_CORRECTIONS }))).toEqual(before)
  })

  const footfall = { alongM: 1, fromS: 1, toS: 2, limb: 'front' as const }
  test.each([
    ['number 4', { changed: [], struckOut: [4], added: [] }],
    ['number 9', { changed: [{ index: 9, footfall }], struckOut: [], added: [] }],
    ['number 1 twice', { changed: [{ index: 1, footfall }], struckOut: [1], added: [] }],
    ['got 2 s to 1 s', { changed: [], struckOut: [], added: [{ ...footfall, fromS: 2, toS: 1 }] }],
  ])('corrections of footfalls that cannot be are refused: %s', async (sentence, footfalls) => {
    const library = await filledLibrary()
    const rides = ridesServices(library)
    const outcome = await rides['rides.correct']({ rideId: 'ride-1', corrections: { ...NO_CORRECTIONS, footfalls } })
    expect(outcome).toMatchObject({ ok: false, error: { code: 'bad-input' } })
    expect(outcome.ok ? '' : outcome.error.message).toContain(sentence)
    expect(library.rides.cards()[0]?.isCorrected).toBe(false)
  })

  test('title, note and dog of a ride are kept', async () => {
    const library = await filledLibrary()
    const rides = ridesServices(library)
    const said = { rideId: 'ride-1', title: 'Final', note: 'sun', dogId: null }
    expect(valueOf(await rides['rides.describe'](said)).card).toMatchObject({
      title: 'Final',
      note: 'sun',
      dogId: null,
    })
    expect(await rides['rides.describe']({ ...said, dogId: 'nobody' })).toMatchObject({
      ok: false,
      error: { code: 'not-found', message: 'This dog is no longer in the library: choose another one.' },
    })
  })
})

test('what is not in the library is told as such, also by ids that are tricks', async () => {
  const library = await filledLibrary()
  const [dogs, boards, rides] = [dogsServices(library), boardsServices(library), ridesServices(library)]
  const { title, note } = meadowRide
  for (const id of ['gone', '../dogs/juno', '..\\..', '/etc/passwd', '.']) {
    for (const outcome of [
      await dogs['dogs.keep']({ id, dog: newDog }),
      await dogs['dogs.remove']({ id }),
      await boards['boards.keep']({ id, board: clubBoard }),
      await boards['boards.remove']({ id }),
      await rides['rides.get']({ rideId: id }),
      await rides['rides.correct']({ rideId: id, corrections: NO_CORRECTIONS }),
      await rides['rides.describe']({ rideId: id, title, note, dogId: null }),
      await rides['rides.remove']({ rideId: id }),
    ]) {
      expect(outcome).toMatchObject({ ok: false, error: { code: 'not-found' } })
    }
  }
  expect(library.dogs.list()).toEqual([juno])
})

test('a removed ride is gone', async () => {
  const rides = ridesServices(await filledLibrary())
  expect(valueOf(await rides['rides.remove']({ rideId: 'ride-1' }))).toMatchObject({ kind: 'ride', id: 'ride-1' })
  expect(valueOf(await rides['rides.list'](everything))).toEqual({ total: 0, rides: [] })
})

test('settings are kept, and several sent at the same time do not undo each other', async () => {
  const settings = settingsServices(await filledLibrary())
  expect(valueOf(await settings['settings.get']({}))).toEqual(FIRST_SETTINGS)
  const keep = settings['settings.keep']
  await Promise.all([keep({ textScale: 1.2 }), keep({ units: 'imperial' }), keep({ theme: 'dark' })])
  const kept = { ...FIRST_SETTINGS, textScale: 1.2, units: 'imperial', theme: 'dark' }
  expect(valueOf(await settings['settings.get']({}))).toEqual(kept)
})

describe('the library', () => {
  test('says where it lies and how full it is', async () => {
    const library = await filledLibrary()
    await mkdir(join(library.picturesFolder, 'meadow'), { recursive: true })
    await writeFile(join(library.picturesFolder, 'meadow/1.jpg'), Buffer.alloc(1000))
    expect(valueOf(await libraryServices(library, NO_FILES)['library.place']({}))).toEqual({
      folder: library.folder,
      rides: 1,
      clips: 1,
      pictureBytes: 1000,
    })
  })

  test('throws prepared pictures away, says so, and nothing else', async () => {
    const library = await filledLibrary()
    await mkdir(join(library.picturesFolder, 'meadow'), { recursive: true })
    await writeFile(join(library.picturesFolder, 'meadow/1.jpg'), Buffer.alloc(1000))
    let told = 0
    const services = libraryServices(library, NO_FILES, () => told++)
    expect(valueOf(await services['library.emptyPictures']({}))).toMatchObject({ rides: 1, clips: 1, pictureBytes: 0 })
    expect(told).toBe(1)
  })

  test('moves, or says why not', async () => {
    const library = await filledLibrary()
    const services = libraryServices(library, NO_FILES)
    expect(await services['library.move']({ folder: 'relative/folder' })).toMatchObject({
      ok: false,
      error: { code: 'bad-input' },
    })
    const folder = await testFolder()
    expect(valueOf(await services['library.move']({ folder }))).toMatchObject({ folder, rides: 1, clips: 1 })
  })
})

const everything = {
  words: '',
  dogId: null,
  boardId: null,
  leaving: null,
  sortBy: 'newest' as const,
  offset: 0,
  limit: 50,
}

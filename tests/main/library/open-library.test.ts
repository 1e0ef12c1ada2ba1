import { mkdir, readdir, readFile, rm, truncate, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { FIRST_SETTINGS } from '../../../main/contract/settings.ts'
import { openLibrary } from '../../../main/library/open-library.ts'
import { clubBoard, filledLibrary, filesIn, juno, meadowClip, meadowRide, testLibrary } from './things.ts'

const corrected = { ...meadowRide.corrections, events: { left: { kind: 'at' as const, atS: 4.5 } } }

describe('what is kept', () => {
  test('a new library is empty and has the first settings', async () => {
    const library = await testLibrary()
    expect([library.dogs.list(), library.boards.list(), library.clips.list(), library.rides.cards()]).toEqual([
      [],
      [],
      [],
      [],
    ])
    expect(library.settings.get()).toEqual(FIRST_SETTINGS)
  })

  test('everything is there again after closing and opening', async () => {
    const library = await filledLibrary()
    await library.settings.keep({ ...FIRST_SETTINGS, units: 'imperial' })
    const cards = library.rides.cards()
    await library.close()
    const again = await testLibrary(library.folder)
    expect(again.dogs.list()).toEqual([juno])
    expect(again.boards.list()).toEqual([clubBoard])
    expect(again.clips.list()).toEqual([meadowClip])
    expect(again.rides.cards()).toEqual(cards)
    expect(await again.rides.get('ride-1')).toEqual(JSON.parse(JSON.stringify(meadowRide)))
    expect(again.settings.get().units).toBe('imperial')
  })

  test('the newest comes first', async () => {
    const library = await testLibrary()
    for (const id of ['a', 'b', 'c']) await library.dogs.put({ ...juno, id })
    await library.dogs.put({ ...juno, id: 'a', name: 'Changed' })
    expect(library.dogs.list().map(({ id }) => id)).toEqual(['c', 'b', 'a'])
  })

  test('rides are ordered by when their clips were taken in', async () => {
    const library = await filledLibrary()
    await library.clips.put({ ...meadowClip, id: 'older', takenInAt: '2026-01-01T10:00:00.000Z' })
    await library.rides.put({ ...meadowRide, id: 'ride-2', clipId: 'older' })
    expect(library.rides.cards().map(({ id }) => id)).toEqual(['ride-1', 'ride-2'])
  })

  test('what was removed stays away', async () => {
    const library = await filledLibrary()
    await library.rides.remove('ride-1')
    await library.dogs.remove('juno')
    await library.close()
    const again = await testLibrary(library.folder)
    expect(again.dogs.list()).toEqual([])
    expect(await again.rides.get('ride-1')).toBeNull()
    expect(await readdir(join(library.folder, 'rides'))).toEqual([])
  })

  test('changing a clip keeps its frame times, and does not write them again', async () => {
    const library = await filledLibrary()
    const parts = async () =>
      (await readdir(join(library.folder, 'clips/meadow'))).filter((name) => name !== 'card.json')
    const before = await parts()
    await library.clips.put({ ...library.clips.get('meadow')!, sizeBytes: 99 })
    expect(await parts()).toEqual(before)
    expect(library.clips.get('meadow')).toEqual({ ...meadowClip, sizeBytes: 99 })
  })

  test('a listener hears every change, and nothing once it has stopped listening', async () => {
    const library = await testLibrary()
    const heard: string[] = []
    const stop = library.onChanged((what) => heard.push(what))
    await library.dogs.put(juno)
    await library.clips.put(meadowClip)
    await library.settings.keep(FIRST_SETTINGS)
    stop()
    await library.dogs.remove('juno')
    // Cards of rides name their dog.
    expect(heard).toEqual(['dogs', 'rides', 'clips', 'settings'])
  })

  test('a closed library takes nothing more', async () => {
    const library = await testLibrary()
    const last = library.dogs.put(juno)
    await library.close()
    await last
    await expect(library.dogs.put({ ...juno, id: 'late' })).rejects.toThrow('The library is closed')
    expect((await testLibrary(library.folder)).dogs.list()).toEqual([juno])
  })

  test('a number that JSON cannot hold is refused before anything is written', async () => {
    const library = await testLibrary()
    await expect(library.dogs.put({ ...juno, massKg: Infinity })).rejects.toThrow('massKg is Infinity')
    expect(library.dogs.list()).toEqual([])
  })
})

describe('cards of rides', () => {
  test('name dog, board and clip as they are now', async () => {
    const library = await filledLibrary()
    expect(library.rides.cards()[0]).toMatchObject({
      dogName: 'Juno',
      boardName: 'Club board',
      fileName: 'meadow.mp4',
      takenInAt: meadowClip.takenInAt,
    })
    await library.dogs.put({ ...juno, name: 'Juno II' })
    expect(library.rides.cards()[0]?.dogName).toBe('Juno II')
  })

  test('a ride whose dog was removed stays, without it', async () => {
    const library = await filledLibrary()
    await library.dogs.remove('juno')
    expect(library.rides.cards()[0]).toMatchObject({ dogId: null, dogName: null })
    expect((await library.rides.get('ride-1'))?.dogId).toBeNull()
  })

  test('tell corrected values once a person has corrected, and measured ones after reverting', async () => {
    const library = await filledLibrary()
    const [measured] = library.rides.cards()
    await library.rides.change('ride-1', { corrections: corrected })
    const [card] = library.rides.cards()
    expect(card?.isCorrected).toBe(true)
    expect(card?.leavingMargin).toMatchObject({ kind: 'measured', value: 1.5 })
    expect(card?.miniature.leftS).toBe(4.5)
    await library.rides.change('ride-1', { corrections: meadowRide.corrections })
    expect(library.rides.cards()).toEqual([measured])
  })

  test('changing words does not touch the record', async () => {
    const library = await filledLibrary()
    await library.rides.change('ride-1', { title: 'Final', note: '' })
    expect(await library.rides.get('ride-1')).toMatchObject({ title: 'Final', note: '', record: { measured: {} } })
    await expect(library.rides.change('nothing', { title: 'x' })).rejects.toThrow('no longer in the library')
  })
})

describe('damage', () => {
  test.each([
    ['cut short', (path: string) => truncate(path, 200)],
    ['emptied', (path: string) => truncate(path, 0)],
    ['overwritten', (path: string) => writeFile(path, '{"format":1,"generation":7}')],
    ['removed', (path: string) => rm(path)],
    ['wrongly shaped', (path: string) => rewrite(path, { rides: [{ format: 1, addedAt: 'x', part: null, card: {} }] })],
    ['filled with another thing', (path: string) => rewrite(path, { dogs: [null] })],
    ['given no number', (path: string) => rewrite(path, { generation: 'x' })],
  ])('an index that was %s is made anew from the cards', async (_, damage) => {
    const library = await filledLibrary()
    await library.rides.change('ride-1', { corrections: corrected })
    const cards = library.rides.cards()
    await library.close()
    await damage(join(library.folder, 'index.json'))
    const again = await testLibrary(library.folder)
    expect(again.dogs.list()).toEqual([juno])
    expect(again.clips.list()).toEqual([meadowClip])
    expect(again.rides.cards()).toEqual(cards)
  })

  test('an index older than the changes is not believed', async () => {
    const library = await filledLibrary()
    await library.close()
    const old = await filesIn(library.folder)
    const second = await openLibrary(library.folder)
    await second.dogs.remove('juno')
    await second.close()
    await writeFile(join(library.folder, 'index.json'), Buffer.from(old['index.json']!, 'base64'))
    await writeFile(join(library.folder, 'changes-99.log'), 'dogs juno\n')
    expect((await testLibrary(library.folder)).dogs.list()).toEqual([])
  })

  const damages: readonly [string, string, (kept: Record<string, Record<string, unknown>>) => unknown][] = [
    ['a clip without facts', 'clips/meadow', (kept) => ({ ...kept, card: { ...kept['card'], facts: undefined } })],
    ['a ride that was added at "x"', 'rides/ride-1', (kept) => ({ ...kept, addedAt: 'x' })],
    ['a dog without a name', 'dogs/juno', (kept) => ({ ...kept, card: { ...kept['card'], name: undefined } })],
    ['a board that is another one', 'boards/club', (kept) => ({ ...kept, card: { ...kept['card'], id: 'other' } })],
    ['a ride that is a list', 'rides/ride-1', () => []],
  ]

  test.each(damages)('%s is told and set aside, the rest is there, and mended it is back', async (_, path, damage) => {
    const library = await filledLibrary()
    await library.dogs.put({ ...juno, id: 'second' })
    await library.close()
    const card = join(library.folder, path, 'card.json')
    const sound = await readFile(card, 'utf8')
    await writeFile(card, JSON.stringify(damage(JSON.parse(sound) as Record<string, Record<string, unknown>>)))
    await rm(join(library.folder, 'index.json'))
    const lost = await openLibrary(library.folder)
    expect(lost.dogs.get('second')).not.toBeNull()
    const aside = join(library.folder, 'set-aside', path)
    const [kind, id] = path.split('/')
    expect(await lost.unreadable()).toMatchObject([{ kind: kind!.slice(0, -1), id, folder: aside }])
    const { dogs, boards, clips, rides } = lost
    const shown = dogs.list().length + boards.list().length + clips.list().length + rides.cards().length
    expect(shown).toBe(4)
    await lost.close()
    // It is told again at every start until it is mended.
    const again = await openLibrary(library.folder)
    expect(await again.unreadable()).toHaveLength(1)
    await again.close()
    await writeFile(join(aside, 'card.json'), sound)
    const mended = await testLibrary(library.folder)
    expect(await mended.unreadable()).toEqual([])
    expect(mended.dogs.list().map((dog) => dog.id)).toEqual(['second', 'juno'])
    expect(mended.boards.list()).toEqual([clubBoard])
    expect(mended.clips.list()).toEqual([meadowClip])
    expect(await mended.rides.get('ride-1')).toEqual(JSON.parse(JSON.stringify(meadowRide)))
  })

  test('a card that was damaged since its last change is shown as it was before, and the damaged one kept', async () => {
    const library = await filledLibrary()
    await library.close()
    const journal = await journalName(library.folder)
    await writeFile(join(library.folder, journal), '\ndogs juno\n')
    await truncate(join(library.folder, 'dogs/juno/card.json'), 10)
    const notes: string[] = []
    const again = await openLibrary(library.folder, { onNote: (note) => notes.push(note) })
    expect(again.dogs.list()).toEqual([juno])
    expect(notes).toEqual([expect.stringContaining(join(library.folder, 'set-aside/dogs/juno'))])
    await again.close()
    await rm(join(library.folder, 'index.json'))
    expect((await testLibrary(library.folder)).dogs.list()).toEqual([juno])
  })

  test('a damaged settings file is put aside, and everything else is there', async () => {
    const library = await filledLibrary()
    await library.close()
    await truncate(join(library.folder, 'library.json'), 5)
    const notes: string[] = []
    const again = await testLibrary(library.folder, { onNote: (note) => notes.push(note) })
    expect(again.dogs.list()).toEqual([juno])
    expect(again.settings.get()).toEqual(FIRST_SETTINGS)
    expect(notes[0]).toMatch(/^The settings could not be read .* kept as library\.damaged-\d+\.json\.$/)
  })

  test('a record that cannot be read is told when it is asked for', async () => {
    const library = await filledLibrary()
    const [part] = (await readdir(join(library.folder, 'rides/ride-1'))).filter((name) => name.startsWith('part-'))
    await truncate(join(library.folder, 'rides/ride-1', part!), 100)
    await expect(library.rides.get('ride-1')).rejects.toThrow('measured data of this ride cannot be read')
    expect(library.rides.cards()).toHaveLength(1)
  })

  test('what a killed program left half done is cleared away', async () => {
    const library = await filledLibrary()
    await library.close()
    const before = await filesIn(library.folder)
    const half = ['rides/ride-1/.card.json.77.part', 'rides/ride-1/part-00ff.json.gz', 'library.json.tmp-1234abcd']
    for (const path of half) await writeFile(join(library.folder, path), 'half')
    await mkdir(join(library.folder, 'rides/never-finished'))
    await writeFile(join(library.folder, 'rides/never-finished/part-00ff.json.gz'), 'half')
    await writeFile(join(library.folder, await journalName(library.folder)), 'rides ride-1\nrides never-finished\nrid')
    await (await openLibrary(library.folder)).close()
    const after = Object.keys(await filesIn(library.folder))
    expect(after.toSorted()).toEqual(Object.keys(before).toSorted())
    expect(await readdir(join(library.folder, 'rides'))).toEqual(['ride-1'])
  })
})

/** Puts other values into a JSON file. */
async function rewrite(path: string, values: object): Promise<void> {
  await writeFile(path, JSON.stringify({ ...(JSON.parse(await readFile(path, 'utf8')) as object), ...values }))
}

/** The name of the journal that belongs to the index as it is. */
async function journalName(folder: string): Promise<string> {
  const index = Buffer.from((await filesIn(folder))['index.json']!, 'base64').toString()
  return `changes-${(JSON.parse(index) as { generation: number }).generation}.log`
}

describe('ids from outside', () => {
  const tricks = ['../dogs/juno', '..', '.', 'a/b', 'a\\b', 'C:', 'Juno', 'juno.', ' juno', '', 'x'.repeat(65), '\0']
  test.each(tricks)('%j never reaches the file system', async (id) => {
    const library = await filledLibrary()
    const before = await filesIn(library.folder)
    expect(library.dogs.get(id)).toBeNull()
    expect(await library.rides.get(id)).toBeNull()
    await expect(library.dogs.put({ ...juno, id })).rejects.toThrow('cannot be the id')
    await expect(library.rides.put({ ...meadowRide, id })).rejects.toThrow('cannot be the id')
    await library.dogs.remove(id)
    await library.rides.remove(id)
    expect(await filesIn(library.folder)).toEqual(before)
  })
})

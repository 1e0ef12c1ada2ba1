import { readFile, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { NO_SESSION } from '../../../main/contract/sessions.ts'
import { clubBoard, filledLibrary, juno, meadowClip, testLibrary } from './things.ts'

type Card = Record<string, unknown>

/** A library as the program of format 1 left it: its cards have none of the fields that came later. */
async function libraryOfFormat1(): Promise<string> {
  const library = await filledLibrary(undefined, { migrations: [] })
  await library.close()
  const later = {
    'dogs/juno': ['criterion', 'bodyDay', 'bodyBefore'],
    'clips/meadow': ['filmedOn'],
    'rides/ride-1': ['session'],
  }
  for (const [place, fields] of Object.entries(later)) {
    const path = join(library.folder, place, 'card.json')
    const kept = JSON.parse(await readFile(path, 'utf8')) as { card: Card }
    const entries = Object.entries(kept.card).filter(([field]) => !fields.includes(field))
    await writeFile(path, JSON.stringify({ ...kept, card: Object.fromEntries(entries) }))
  }
  return library.folder
}

test('rides, clips and dogs of format 1 come over with everything that was said of them, and nothing made up', async () => {
  const library = await testLibrary(await libraryOfFormat1())
  expect(await library.unreadable()).toEqual([])
  expect(library.dogs.list()).toEqual([juno])
  expect(library.boards.list()).toEqual([clubBoard])
  expect(library.clips.list()[0]).toMatchObject({ ...meadowClip, filmedOn: null })
  const [card] = library.rides.cards()
  expect(card).toMatchObject({ title: 'Second run', note: 'windy', dogName: 'Juno', session: NO_SESSION })
  expect((await library.rides.get('ride-1'))?.session).toEqual(NO_SESSION)
  expect(library.noted.list()).toEqual([])
})

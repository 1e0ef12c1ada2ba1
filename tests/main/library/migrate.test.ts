import { mkdir, readFile, rename, rm, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { FIRST_SETTINGS } from '../../../main/contract/settings.ts'
import { migrate } from '../../../main/library/migrate.ts'
import type { Migration } from '../../../main/library/migrations.ts'
import { openLibrary } from '../../../main/library/open-library.ts'
import { clubBoard, filledLibrary, filesIn, juno, meadowClip, testLibrary } from './things.ts'

type Named = { readonly name: string }
const shout: Migration = {
  dogs: (dog) => ({ ...(dog as Named), name: (dog as Named).name.toUpperCase() }),
  settings: (settings) => ({ ...(settings as object), units: 'imperial' }),
  ridePart: (part) => ({ ...(part as object), dog: 'of format 2' }),
}
const exclaim: Migration = { dogs: (dog) => ({ ...(dog as Named), name: `${(dog as Named).name}!` }) }

/** The folder of a closed library of format 1 with one of each. */
async function oldLibrary(): Promise<string> {
  const library = await filledLibrary(undefined, { migrations: [] })
  await library.settings.keep({ ...FIRST_SETTINGS, theme: 'dark' })
  await library.close()
  return library.folder
}

describe('a library of an older format', () => {
  test('is brought up to date, step by step', async () => {
    const library = await testLibrary(await oldLibrary(), { migrations: [shout, exclaim] })
    expect(library.dogs.get('juno')).toEqual({ ...juno, name: 'JUNO!' })
    expect(library.boards.get('club')).toEqual(clubBoard)
    expect(library.clips.get('meadow')).toEqual(meadowClip)
    expect(library.rides.cards()[0]?.dogName).toBe('JUNO!')
    expect(library.settings.get()).toMatchObject({ theme: 'dark', units: 'imperial' })
  })

  test('is brought up to date once', async () => {
    const folder = await oldLibrary()
    for (let time = 0; time < 2; time++) await (await openLibrary(folder, { migrations: [exclaim] })).close()
    const library = await testLibrary(folder, { migrations: [exclaim, exclaim] })
    expect(library.dogs.get('juno')?.name).toBe('Juno!!')
  })

  test('big records are brought up to date when they are read', async () => {
    const library = await testLibrary(await oldLibrary(), { migrations: [shout] })
    expect(await library.rides.get('ride-1')).toMatchObject({ record: { dog: 'of format 2' } })
  })

  test('is left as it was, byte for byte, when a step fails', async () => {
    const folder = await oldLibrary()
    const before = await filesIn(folder)
    const fails: Migration = {
      clips: () => {
        throw new Error('a clip without a name')
      },
    }
    await expect(openLibrary(folder, { migrations: [shout, fails] })).rejects.toThrow(
      /is from an older Tiphold and could not be brought up to date \(a clip without a name\): nothing in it was changed;/,
    )
    expect(await filesIn(folder)).toEqual(before)
    expect((await testLibrary(folder, { migrations: [] })).dogs.list()).toEqual([juno])
  })

  test('a step that was killed while it wrote begins anew', async () => {
    const folder = await oldLibrary()
    await mkdir(join(folder, 'next/dogs/juno'), { recursive: true })
    await writeFile(join(folder, 'next/dogs/juno/card.json'), '{"half')
    expect((await testLibrary(folder, { migrations: [exclaim] })).dogs.get('juno')?.name).toBe('Juno!')
  })

  test('a step that was killed while files took their places is finished', async () => {
    const folder = await oldLibrary()
    const old = await filesIn(folder)
    await migrate(folder, [shout])
    const card = join(folder, 'dogs/juno/card.json')
    const migrated = await readFile(card)
    // As it lay just after the first file had moved: the clip in its place, the dog and the library's file not yet.
    await mkdir(join(folder, 'next/dogs/juno'), { recursive: true })
    await writeFile(join(folder, 'next/dogs/juno/card.json'), migrated)
    await writeFile(join(folder, 'next/complete.json'), '{"format":2}')
    await rename(join(folder, 'library.json'), join(folder, 'next/library.json'))
    for (const path of ['dogs/juno/card.json', 'library.json']) {
      await writeFile(join(folder, path), Buffer.from(old[path]!, 'base64'))
    }
    const library = await testLibrary(folder, { migrations: [shout] })
    expect(library.dogs.get('juno')?.name).toBe('JUNO')
    expect(library.settings.get().units).toBe('imperial')
    expect(Object.keys(await filesIn(folder)).filter((path) => path.startsWith('next'))).toEqual([])
  })

  test('whose own file is lost is known by its cards', async () => {
    const folder = await oldLibrary()
    await rm(join(folder, 'library.json'))
    const library = await testLibrary(folder, { migrations: [exclaim] })
    expect(library.dogs.get('juno')?.name).toBe('Juno!')
    expect(library.settings.get()).toEqual(FIRST_SETTINGS)
  })
})

describe('a library of a newer format', () => {
  test('is refused, and left as it was, byte for byte', async () => {
    const folder = await oldLibrary()
    await (await openLibrary(folder, { migrations: [shout] })).close()
    const before = await filesIn(folder)
    await expect(openLibrary(folder, { migrations: [] })).rejects.toMatchObject({
      code: 'refused',
      message: `The library ${folder} was written by a newer Tiphold than this one: update Tiphold; nothing in it was changed.`,
    })
    expect(await filesIn(folder)).toEqual(before)
  })

  test('is refused even where its own file is lost', async () => {
    const folder = await oldLibrary()
    await (await openLibrary(folder, { migrations: [shout] })).close()
    await rm(join(folder, 'library.json'))
    await expect(openLibrary(folder, { migrations: [] })).rejects.toThrow('by a newer Tiphold')
  })

  test('is refused while the newer program has not finished bringing it up to date', async () => {
    const folder = await oldLibrary()
    await mkdir(join(folder, 'next'))
    await writeFile(join(folder, 'next/complete.json'), '{"format":2}')
    const before = await filesIn(folder)
    await expect(openLibrary(folder, { migrations: [] })).rejects.toThrow('by a newer Tiphold')
    expect(await filesIn(folder)).toEqual(before)
  })
})

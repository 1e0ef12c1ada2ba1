import { mkdir, readdir, rm, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import type { Outcome } from '../../../main/contract/outcome.ts'
import { libraryServices } from '../../../main/services/library-services.ts'
import { filesIn, filledLibrary, testFolder, testLibrary } from '../library/things.ts'

function valueOf<T>(outcome: Outcome<T>): T {
  if (!outcome.ok) throw new Error(outcome.error.message)
  return outcome.value
}

/** A library, and a backup of it that was handed over as `fileId`. */
async function backedUp() {
  const library = await filledLibrary()
  const backup = join(await testFolder(), 'b.zip')
  await library.backUp(backup)
  const letGo: string[] = []
  const handed = {
    pathOf: (id: string) => (id === 'backup' ? backup : null),
    letGo: (id: string) => Promise.resolve(void letGo.push(id)),
  }
  return { library, backup, letGo, services: libraryServices(library, handed) }
}

test('a backup says what it holds before anything is restored', async () => {
  const { services, backup } = await backedUp()
  const holds = valueOf(await services['library.lookIntoBackup']({ fileId: 'backup' }))
  expect(holds).toMatchObject({ dogs: 1, boards: 1, clips: 1, rides: 1, ridesNotFilmed: 0, packs: 0 })
  expect(holds.bytes).toBeGreaterThan(100)
  expect(Date.parse(holds.madeAt!)).not.toBeNaN()
  await writeFile(backup, 'no backup')
  const refused = await services['library.lookIntoBackup']({ fileId: 'backup' })
  expect(refused).toMatchObject({
    ok: false,
    error: { message: expect.stringMatching(/no backup of a library/) as string },
  })
  expect(await services['library.lookIntoBackup']({ fileId: 'other' })).toMatchObject({ ok: false })
})

test('it is restored into a new folder, never over what is there, and the library that is open stays', async () => {
  const { services, library } = await backedUp()
  const before = await filesIn(library.folder)
  const to = join(await testFolder(), 'restored')
  expect(valueOf(await services['library.restore']({ fileId: 'backup', folder: to }))).toEqual({
    folder: to,
    rides: 1,
    clips: 1,
  })
  const refused = async (folder: string) => {
    const outcome = await services['library.restore']({ fileId: 'backup', folder })
    return outcome.ok ? '' : outcome.error.message
  }
  expect(await refused(to)).toMatch(/holds other things/)
  expect(await refused('restored')).toMatch(/full path/)
  expect(await refused(join(library.folder, 'within'))).toMatch(/inside the library that is open/)
  const full = await testFolder()
  await mkdir(join(full, 'photos'))
  expect(await refused(full)).toMatch(/holds other things \(photos\)/)
  expect(await readdir(full)).toEqual(['photos'])
  expect(await filesIn(library.folder)).toEqual(before)
})

test('from the next start on it is the one that is opened, and there is a way back', async () => {
  const { services, library } = await backedUp()
  const to = join(await testFolder(), 'restored')
  valueOf(await services['library.restore']({ fileId: 'backup', folder: to }))
  await library.dogs.remove('juno')
  const none = await services['library.openNext']({ folder: await testFolder() })
  expect(none).toMatchObject({ ok: false, error: { message: expect.stringMatching(/no library in/) as string } })
  valueOf(await services['library.openNext']({ folder: to }))
  await library.close()
  const next = await testLibrary(library.folder)
  expect(next.folder).toBe(to)
  expect(next.dogs.list()).toHaveLength(1)
  await next.openNext(library.folder)
  await next.close()
  const back = await testLibrary(library.folder)
  expect(back.folder).toBe(library.folder)
  expect(back.dogs.list()).toEqual([])
  await rm(to, { recursive: true })
})

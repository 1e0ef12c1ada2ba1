import { mkdir, rm, utimes, writeFile } from 'node:fs/promises'
import { hostname } from 'node:os'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { lockFolder } from '../../../main/library/folder-lock.ts'
import { openLibrary } from '../../../main/library/open-library.ts'
import { filledLibrary, juno, testFolder, testLibrary } from './things.ts'

const nobody = () => undefined

/** A lock as a program leaves it that was killed `agoS` ago. */
async function leaveLock(folder: string, owner: { readonly pid: number; readonly host: string }, agoS: number) {
  await mkdir(join(folder, 'in-use.lock'))
  await writeFile(join(folder, 'in-use.json'), JSON.stringify(owner))
  const at = Date.now() / 1000 - agoS
  await utimes(join(folder, 'in-use.lock'), at, at)
}

/** The number of no process: above what systems give. */
const deadPid = 2 ** 30

test('a second opener is told that the library is open, and the first goes on', async () => {
  const library = await filledLibrary()
  await expect(openLibrary(library.folder)).rejects.toMatchObject({
    code: 'in-use',
    message: `The library ${library.folder} is open in another Tiphold: close it there first; if none is open, wait half a minute and try again.`,
  })
  await library.dogs.put({ ...juno, id: 'second' })
  expect(library.dogs.list()).toHaveLength(2)
})

test('a closed library can be opened again at once', async () => {
  const library = await filledLibrary()
  await library.close()
  expect((await testLibrary(library.folder)).dogs.list()).toEqual([juno])
})

test('the fresh lock of a killed program is taken over within a few seconds', async () => {
  const folder = await testFolder()
  await leaveLock(folder, { pid: deadPid, host: hostname() }, 0)
  const startMs = performance.now()
  await (
    await lockFolder(folder, nobody)
  )()
  expect(performance.now() - startMs).toBeLessThan(5000)
})

test('an old lock is taken over even if its process number was given to another program', async () => {
  const folder = await testFolder()
  await leaveLock(folder, { pid: process.pid, host: hostname() }, 40)
  const unlock = await lockFolder(folder, nobody)
  await expect(lockFolder(folder, nobody)).rejects.toMatchObject({ code: 'in-use' })
  await unlock()
})

test('the lock of another machine is respected and its name told', async () => {
  const folder = await testFolder()
  await leaveLock(folder, { pid: deadPid, host: 'the-laptop' }, 10)
  await expect(lockFolder(folder, nobody)).rejects.toThrow('on the machine the-laptop')
})

test('a library whose lock was lost writes nothing more', async () => {
  const library = await filledLibrary()
  await rm(join(library.folder, 'in-use.lock'), { recursive: true })
  await expect
    .poll(
      () =>
        library.dogs.put(juno).then(
          () => 'written',
          (error: Error) => error.message,
        ),
      { timeout: 5000 },
    )
    .toContain('was taken over by another Tiphold or is gone')
})

import { spawn } from 'node:child_process'
import { once } from 'node:events'
import { mkdir, readFile, rename, rm, utimes, writeFile } from 'node:fs/promises'
import { hostname } from 'node:os'
import { join } from 'node:path'
import { describe, expect, onTestFinished, test } from 'vitest'
import { lockFolder } from '../../../main/library/folder-lock.ts'
import { identityOf, thisProcess } from '../../../main/library/process-identity.ts'
import { openLibrary } from '../../../main/library/open-library.ts'
import { filledLibrary, juno, testFolder, testLibrary } from './things.ts'

const nobody = () => undefined

/** A lock as a program leaves it that was killed `agoS` ago. */
async function leaveLock(folder: string, owner: object, agoS: number) {
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

test('the fresh lock of a killed program is taken over', async () => {
  const folder = await testFolder()
  const killed = await startedProcess()
  await leaveLock(folder, { ...killed.identity, host: hostname(), token: 'theirs' }, 0)
  await killed.end()
  const lock = await lockFolder(folder, nobody)
  expect(await lock.isOurs()).toBe(true)
  await lock.release()
})

test('so is one whose process number was given to another program', async () => {
  const folder = await testFolder()
  await leaveLock(folder, { ...(await thisProcess()), startedAt: '1', host: hostname(), token: 'theirs' }, 0)
  const lock = await lockFolder(folder, nobody)
  expect(await lock.isOurs()).toBe(true)
  await lock.release()
})

test.each([
  ['for an hour', 3600],
  ['and its clock was set back since', -3600],
])('a program that runs but gave no sign %s, as one that is suspended, keeps its lock', async (_, agoS) => {
  const folder = await testFolder()
  const suspended = await startedProcess()
  await leaveLock(folder, { ...suspended.identity, host: hostname(), token: 'theirs' }, agoS)
  await expect(lockFolder(folder, nobody)).rejects.toMatchObject({ code: 'in-use' })
  await suspended.end()
})

test('a lock that cannot be asked after, and gives no sign while it is watched, is taken over', async () => {
  const folder = await testFolder()
  await leaveLock(folder, { pid: process.pid, host: 'the-laptop' }, 40)
  const lock = await lockFolder(folder, nobody)
  await expect(lockFolder(folder, nobody)).rejects.toMatchObject({ code: 'in-use' })
  await lock.release()
})

test('a machine with another clock keeps its lock while it gives signs', async () => {
  const folder = await testFolder()
  await leaveLock(folder, { pid: deadPid, host: 'the-laptop' }, 3600)
  const opening = lockFolder(folder, nobody)
  const sign = setInterval(() => {
    const at = Date.now() / 1000 - 3500
    void utimes(join(folder, 'in-use.lock'), at, at)
  }, 200)
  await expect(opening).rejects.toMatchObject({ code: 'in-use' })
  clearInterval(sign)
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

test('a lock that another took over is no longer ours, and is not let go of', async () => {
  const folder = await testFolder()
  const lock = await lockFolder(folder, nobody)
  expect(await lock.isOurs()).toBe(true)
  const theirs = JSON.stringify({ pid: 1, host: 'the-laptop', token: 'theirs' })
  await writeFile(join(folder, 'in-use.json'), theirs)
  expect(await lock.isOurs()).toBe(false)
  await lock.release()
  expect(await readFile(join(folder, 'in-use.json'), 'utf8')).toBe(theirs)
})

describe('a change is refused, and no later one is taken,', () => {
  test.each([
    [
      'once another program took the library over',
      (folder: string) => writeFile(join(folder, 'in-use.json'), '{"pid":1,"host":"the-laptop","token":"theirs"}'),
    ],
    ['once the folder is gone', (folder: string) => rm(folder, { recursive: true })],
    ['once the folder has another name', (folder: string) => rename(folder, `${folder}-renamed`)],
  ])('%s', async (_, happen) => {
    const library = await filledLibrary()
    const folder = library.folder
    await happen(folder)
    const sentence = 'was taken over by another Tiphold or is gone'
    await expect(library.dogs.put({ ...juno, id: 'late' })).rejects.toThrow(sentence)
    await expect(library.settings.keep(library.settings.get())).rejects.toThrow(sentence)
    await expect(library.rides.remove('ride-1')).rejects.toThrow(sentence)
    await rm(`${folder}-renamed`, { recursive: true, force: true })
  })
})

/** A program that runs until it is ended. */
async function startedProcess() {
  const child = spawn(process.execPath, ['-e', 'process.stdin.resume(); console.log("up")'])
  await once(child.stdout, 'data')
  const identity = await identityOf(child.pid!)
  const end = async () => {
    const ended = once(child, 'exit')
    child.kill('SIGKILL')
    await ended
  }
  onTestFinished(() => void child.kill('SIGKILL'))
  return { identity, end }
}

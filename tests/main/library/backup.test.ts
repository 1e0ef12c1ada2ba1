import { execFileSync } from 'node:child_process'
import { mkdir, readdir, readFile, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { restoreBackup } from '../../../main/library/backup.ts'
import { openLibrary } from '../../../main/library/open-library.ts'
import { filesIn, filledLibrary, meadowClip, meadowRide, testFolder, testLibrary } from './things.ts'

test('a library comes back from its one file with all that was in it, also what lies in the bin', async () => {
  const library = await filledLibrary()
  await mkdir(library.clipsFolder, { recursive: true })
  await writeFile(join(library.clipsFolder, 'own film ü.mp4'), 'a film')
  await library.clips.put({ ...meadowClip, id: 'own', path: join(library.clipsFolder, 'own film ü.mp4') })
  await library.rides.put({ ...meadowRide, id: 'ride-2' })
  await library.rides.remove('ride-2')
  const file = join(await testFolder(), 'deep', 'Backup.zip')
  const told = await library.backUp(file)
  expect(told).toMatchObject({ path: file, clipsElsewhere: 1 })
  expect(await readdir(join(file, '..'))).toEqual(['Backup.zip'])

  const to = join(await testFolder(), 'restored')
  await restoreBackup(file, to)
  const restored = await testLibrary(to)
  expect(restored.rides.cards()).toEqual(library.rides.cards())
  expect(await restored.rides.get('ride-1')).toEqual(await library.rides.get('ride-1'))
  expect(await readFile(restored.clips.get('own')!.path, 'utf8')).toBe('a film')
  const [removed] = restored.bin.list()
  await restored.bin.putBack(removed!.removedId)
  expect(restored.rides.cards()).toHaveLength(2)
})

test('a backup goes on being made while changes wait for their turn, and holds the library as it was before them', async () => {
  const library = await filledLibrary()
  const file = join(await testFolder(), 'b.zip')
  const [, changed] = await Promise.all([library.backUp(file), library.rides.put({ ...meadowRide, id: 'later' })])
  expect(changed).toBeUndefined()
  const to = await testFolder()
  await restoreBackup(file, to)
  expect((await testLibrary(to)).rides.cards().map(({ id }) => id)).toEqual(['ride-1'])
})

test('a damaged, cut or foreign file restores nothing', async () => {
  const library = await filledLibrary()
  const folder = await testFolder()
  const file = join(folder, 'b.zip')
  await library.backUp(file)
  const whole = await readFile(file)
  const flipped = Buffer.from(whole)
  flipped[Math.floor(whole.length / 2)]! ^= 0xff
  const bad = { 'cut.zip': whole.subarray(0, -100), 'flipped.zip': flipped, 'text.zip': Buffer.from('no zip at all') }
  for (const [name, bytes] of Object.entries(bad)) {
    await writeFile(join(folder, name), bytes)
    const to = await testFolder()
    await expect(restoreBackup(join(folder, name), to)).rejects.toThrow('nothing was restored')
    expect(await readdir(to)).toEqual([])
  }
})

test('a folder that holds anything is left as it is', async () => {
  const library = await filledLibrary()
  const file = join(await testFolder(), 'b.zip')
  await library.backUp(file)
  const other = await filledLibrary()
  await other.close()
  const before = await filesIn(other.folder)
  await expect(restoreBackup(file, other.folder)).rejects.toThrow('restore into an empty folder')
  expect(await filesIn(other.folder)).toEqual(before)
  await (await openLibrary(other.folder)).close()
})

test('only a whole path to a .zip file is taken', async () => {
  const library = await filledLibrary()
  await expect(library.backUp('backup.zip')).rejects.toThrow('give the whole path')
  await expect(library.backUp(join(await testFolder(), 'backup'))).rejects.toThrow('ends in .zip')
})

test('any other ZIP reader finds the file sound', async (context) => {
  const library = await filledLibrary()
  const file = join(await testFolder(), 'b.zip')
  await library.backUp(file)
  try {
    expect(execFileSync('python3', ['-m', 'zipfile', '-t', file], { encoding: 'utf8' })).toContain('Done testing')
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') context.skip('no python3 on this machine')
    throw error
  }
})

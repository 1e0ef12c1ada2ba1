import { mkdir, readdir, readFile, rename, rm, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import type { Library } from '../../../main/library/library.ts'
import { openLibrary } from '../../../main/library/open-library.ts'
import { clubBoard, filledLibrary, filesIn, juno, meadowClip, meadowRide, testFolder, testLibrary } from './things.ts'

const corrections = { ...meadowRide.corrections, events: { left: { kind: 'at' as const, atS: 4.5 } } }
const dayMs = 24 * 3600 * 1000

/** All that a library holds, with every record and frame time. */
async function contents(library: Library) {
  const rides = library.rides.cards()
  return {
    dogs: library.dogs.list(),
    boards: library.boards.list(),
    clips: library.clips.list().map((clip) => ({ ...clip })),
    rides,
    records: await Promise.all(rides.map(({ id }) => library.rides.get(id))),
  }
}

describe('what was removed', () => {
  test.each([
    ['a ride', (library: Library) => library.rides.remove('ride-1'), { kind: 'ride', id: 'ride-1', rides: 0 }],
    ['a clip with its rides', (library: Library) => library.clips.remove('meadow'), { kind: 'clip', rides: 1 }],
    ['a dog', (library: Library) => library.dogs.remove('juno'), { kind: 'dog', name: 'Juno' }],
    ['a board', (library: Library) => library.boards.remove('club'), { kind: 'board', name: 'Club board' }],
  ])('comes back as it was: %s', async (_, remove, told) => {
    const library = await filledLibrary()
    await library.rides.change('ride-1', { corrections, note: 'gusty' })
    const before = await contents(library)
    const removed = await remove(library)
    expect(removed).toMatchObject(told)
    expect(library.bin.list()).toEqual([removed])
    expect(await contents(library)).not.toEqual(before)
    await library.bin.putBack(removed!.removedId)
    expect(await contents(library)).toEqual(before)
    expect(library.bin.list()).toEqual([])
    await library.close()
    expect(await contents(await testLibrary(library.folder))).toEqual(before)
  })

  test('can be put back after the program was closed and opened, and after the library moved', async () => {
    const library = await filledLibrary()
    const before = await contents(library)
    const removed = await library.clips.remove('meadow')
    expect(library.rides.cards()).toEqual([])
    await library.close()
    const again = await testLibrary(library.folder)
    expect(again.bin.list()).toEqual([removed])
    await again.moveTo(await testFolder())
    await again.bin.putBack(removed!.removedId)
    expect(await contents(again)).toEqual(before)
  })

  test('is told with its name as in lists, when it went and until when it is kept, the latest first', async () => {
    let nowMs = Date.parse('2026-05-03T10:00:00Z')
    const library = await filledLibrary(undefined, { now: () => nowMs })
    await library.rides.remove('ride-1')
    nowMs += dayMs
    await library.dogs.remove('juno')
    expect(library.bin.list()).toMatchObject([
      { kind: 'dog', name: 'Juno', removedAt: '2026-05-04T10:00:00.000Z', keptUntil: '2026-06-03T10:00:00.000Z' },
      { kind: 'ride', name: 'Juno, Second run', removedAt: '2026-05-03T10:00:00.000Z' },
    ])
  })

  test('is deleted for good after 30 days, and not before', async () => {
    let nowMs = Date.parse('2026-05-03T10:00:00Z')
    const now = () => nowMs
    const library = await filledLibrary(undefined, { now })
    const removed = await library.dogs.remove('juno')
    await library.close()
    nowMs += 30 * dayMs
    const onTheLastDay = await openLibrary(library.folder, { now })
    expect(onTheLastDay.bin.list()).toEqual([removed])
    await onTheLastDay.close()
    nowMs += 1
    const after = await testLibrary(library.folder, { now })
    expect(after.bin.list()).toEqual([])
    expect(await readdir(join(library.folder, 'bin'))).toEqual([])
  })

  test('cannot be put back once the bin was emptied, nor twice', async () => {
    const library = await filledLibrary()
    const dog = await library.dogs.remove('juno')
    const board = await library.boards.remove('club')
    await library.bin.putBack(board!.removedId)
    await library.bin.empty()
    for (const { removedId } of [dog!, board!])
      await expect(library.bin.putBack(removedId)).rejects.toMatchObject({ code: 'not-found' })
    expect(library.boards.list()).toEqual([clubBoard])
    expect(library.dogs.list()).toEqual([])
  })

  test('a listener hears what changed, and of the bin', async () => {
    const library = await filledLibrary()
    const heard: string[] = []
    library.onChanged((what) => heard.push(what))
    const removed = await library.clips.remove('meadow')
    expect(heard).toEqual(['rides', 'clips', 'bin'])
    await library.bin.putBack(removed!.removedId)
    expect(heard.slice(3)).toEqual(['rides', 'clips', 'bin'])
  })

  test('keeps the library’s own copy of a clip until it is deleted for good', async () => {
    const library = await filledLibrary()
    const path = join(library.clipsFolder, 'one/upload.mp4')
    await mkdir(join(path, '..'), { recursive: true })
    await writeFile(path, 'a film')
    await library.clips.put({ ...meadowClip, id: 'upload', path })
    await library.clips.remove('upload')
    expect(await readFile(path, 'utf8')).toBe('a film')
    expect(library.bin.copies()).toEqual(['clip-files/one/upload.mp4'])
    await library.bin.empty()
    expect(await readdir(library.clipsFolder)).toEqual([])
  })

  test('a copy that a clip of the library lies in is not deleted with the bin', async () => {
    const library = await filledLibrary()
    const path = join(library.clipsFolder, 'one/upload.mp4')
    await mkdir(join(path, '..'), { recursive: true })
    await writeFile(path, 'a film')
    for (const id of ['a', 'b']) await library.clips.put({ ...meadowClip, id, path })
    await library.clips.remove('a')
    await library.bin.empty()
    expect(await readFile(path, 'utf8')).toBe('a film')
  })

  test('comes back in the format of a newer program', async () => {
    const library = await filledLibrary(undefined, { migrations: [] })
    const removed = await library.dogs.remove('juno')
    await library.close()
    const breed = { dogs: (card: unknown) => ({ ...(card as object), note: 'upgraded' }) }
    const newer = await testLibrary(library.folder, { migrations: [breed] })
    await newer.bin.putBack(removed!.removedId)
    expect(newer.dogs.list()).toEqual([{ ...juno, note: 'upgraded' }])
  })
})

describe('a program that was killed', () => {
  /** Every step of a removal as files lie then, the first being none and the last all. */
  async function stepsOfRemoval() {
    const library = await filledLibrary()
    const before = await contents(library)
    const removed = await library.clips.remove('meadow')
    await library.close()
    const inBin = join(library.folder, 'bin', removed!.removedId)
    const home = (path: string) => join(library.folder, path)
    return { folder: library.folder, before, inBin, home, removed }
  }

  test.each([
    ['before anything moved', ['rides/ride-1', 'clips/meadow']],
    ['when the ride had moved and the clip had not', ['clips/meadow']],
  ])('while removing, %s, has removed nothing', async (_, stillAtHome) => {
    const { folder, before, inBin, home } = await stepsOfRemoval()
    for (const path of stillAtHome) await rename(join(inBin, path), home(path))
    const again = await testLibrary(folder)
    expect(await contents(again)).toEqual(before)
    expect(again.bin.list()).toEqual([])
  })

  test('while putting back, when the clip was back and its ride was not, has put it back', async () => {
    const { folder, before, inBin, home } = await stepsOfRemoval()
    await rename(join(inBin, 'clips/meadow'), home('clips/meadow'))
    expect(await contents(await testLibrary(folder))).toEqual(before)
  })

  test('while beginning to remove leaves nothing in the bin', async () => {
    const library = await filledLibrary()
    await library.close()
    await mkdir(join(library.folder, 'bin/begun'), { recursive: true })
    await writeFile(join(library.folder, 'bin/begun/.removed.json.7.part'), '{')
    await testLibrary(library.folder)
    expect(await readdir(join(library.folder, 'bin'))).toEqual([])
  })

  test('while emptying leaves nothing of it', async () => {
    const { folder, inBin } = await stepsOfRemoval()
    await rename(inBin, `${inBin}.gone`)
    await rm(join(`${inBin}.gone`, 'removed.json'))
    const again = await testLibrary(folder)
    expect([again.bin.list(), await readdir(join(folder, 'bin'))]).toEqual([[], []])
  })

  test('a record that cannot be read is told, and what it stands for is not deleted', async () => {
    const { folder, inBin } = await stepsOfRemoval()
    await writeFile(join(inBin, 'removed.json'), '{"id":')
    const held = await filesIn(inBin)
    const notes: string[] = []
    const again = await testLibrary(folder, { onNote: (note) => notes.push(note) })
    await again.bin.empty()
    expect(notes).toEqual([expect.stringContaining('cannot be put back: its record cannot be read')])
    expect(await filesIn(inBin)).toEqual(held)
  })
})

test('a removal that fails leaves everything as it was', async () => {
  const library = await filledLibrary()
  const before = await contents(library)
  // Stands for a disk that fails in the middle: the ride's folder is gone.
  await rename(join(library.folder, 'clips/meadow'), join(library.folder, 'elsewhere'))
  await expect(library.clips.remove('meadow')).rejects.toThrow('cannot be reached')
  await rename(join(library.folder, 'elsewhere'), join(library.folder, 'clips/meadow'))
  expect(await contents(library)).toEqual(before)
  expect(library.bin.list()).toEqual([])
})

test('what is removed, changed and put back at once ends in the order in which it was asked for', async () => {
  const library = await filledLibrary()
  const changed = library.dogs.put({ ...juno, note: 'late' })
  const removed = library.dogs.remove('juno')
  const late = library.dogs.update('juno', (now) => ({ ...now, note: 'too late' }))
  await changed
  expect(await late).toBeNull()
  await library.bin.putBack((await removed)!.removedId)
  expect(library.dogs.list()).toEqual([{ ...juno, note: 'late' }])
})

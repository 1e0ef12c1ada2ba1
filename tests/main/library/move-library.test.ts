import { mkdir, readdir, readFile, rm, symlink, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { rememberFolder } from '../../../main/library/library-folder.ts'
import { copyLibrary } from '../../../main/library/move-library.ts'
import { openLibrary } from '../../../main/library/open-library.ts'
import { beginMove } from '../../../main/library/unfinished-move.ts'
import { clubBoard, filledLibrary, juno, meadowClip, meadowRide, testFolder, testLibrary } from './things.ts'

describe('moving a library', () => {
  test('takes everything along, and it is found from its first folder', async () => {
    const library = await filledLibrary()
    const home = library.folder
    const to = join(await testFolder(), 'new/place')
    await library.moveTo(to)
    expect(library.folder).toBe(to)
    expect(await readdir(home)).toEqual(['moved-to.json'])
    await library.dogs.put({ ...juno, id: 'after' })
    await library.close()
    const again = await testLibrary(home)
    expect(again.folder).toBe(to)
    expect(again.dogs.list().map(({ id }) => id)).toEqual(['after', 'juno'])
    expect(again.boards.list()).toEqual([clubBoard])
    expect(again.clips.list()).toEqual([meadowClip])
    expect(await again.rides.get('ride-1')).toEqual(JSON.parse(JSON.stringify(meadowRide)))
  })

  test('files that were handed over move with it and are found there', async () => {
    const library = await filledLibrary()
    await mkdir(library.clipsFolder, { recursive: true })
    const path = join(library.clipsFolder, 'upload.mp4')
    await writeFile(path, 'a film')
    await library.clips.put({ ...meadowClip, id: 'handed-over', path })
    const to = await testFolder()
    await library.moveTo(to)
    const now = library.clips.get('handed-over')!.path
    expect(now).toBe(join(to, 'clip-files/upload.mp4'))
    expect(await readFile(now, 'utf8')).toBe('a film')
    expect(library.clips.get('meadow')!.path).toBe(meadowClip.path)
  })

  test('twice, it is still found from its first folder; and back home again', async () => {
    const library = await filledLibrary()
    const home = library.folder
    const [second, third] = [await testFolder(), await testFolder()]
    await library.moveTo(second)
    await library.moveTo(third)
    await library.close()
    const again = await testLibrary(home)
    expect(again.folder).toBe(third)
    await again.moveTo(home)
    expect(await readdir(home)).not.toContain('moved-to.json')
    expect(again.dogs.list()).toEqual([juno])
  })

  test('nobody else may open it in its new place', async () => {
    const library = await filledLibrary()
    const home = library.folder
    await library.moveTo(await testFolder())
    await expect(openLibrary(home)).rejects.toMatchObject({ code: 'in-use' })
  })

  test('a changed library is moved as it is, also what came while it moved', async () => {
    const library = await filledLibrary()
    const moved = library.moveTo(await testFolder())
    const put = library.dogs.put({ ...juno, id: 'meanwhile' })
    await Promise.all([moved, put])
    await library.close()
    expect((await testLibrary(library.folder)).dogs.list()).toHaveLength(2)
  })

  test('other things in the old folder stay', async () => {
    const library = await filledLibrary()
    const home = library.folder
    await writeFile(join(home, 'mine.txt'), 'mine')
    await library.moveTo(await testFolder())
    expect((await readdir(home)).toSorted()).toEqual(['mine.txt', 'moved-to.json'])
  })
})

describe('a move is refused', () => {
  test.each([
    ['to a relative path', () => 'somewhere/else', 'give the full path'],
    ['into the library itself', (home: string) => join(home, 'deeper'), 'inside the library itself'],
    ['to where it is', (home: string) => home, 'inside the library itself'],
    ['to a folder that holds other things', (_: string, other: string) => other, 'holds other things (film.mp4)'],
    ['to a file', (_: string, other: string) => join(other, 'film.mp4'), 'this is a file'],
    ['into the library by way of a link', (_: string, other: string) => join(other, 'link/a/b'), 'inside the library'],
  ])('%s, and everything is as before', async (_, target, sentence) => {
    const library = await filledLibrary()
    const home = library.folder
    const other = await testFolder()
    await writeFile(join(other, 'film.mp4'), 'a film')
    await symlink(home, join(other, 'link'))
    const before = (await readdir(home)).toSorted()
    await expect(library.moveTo(target(home, other))).rejects.toMatchObject({ code: 'bad-input' })
    await expect(library.moveTo(target(home, other))).rejects.toThrow(sentence)
    expect(library.folder).toBe(home)
    expect((await readdir(home)).toSorted()).toEqual(before)
    await library.dogs.put({ ...juno, id: 'after' })
    expect(library.dogs.list()).toHaveLength(2)
  })
})

test('a moved library whose drive is not there is told, and no empty one takes its place', async () => {
  const library = await filledLibrary()
  const home = library.folder
  const to = await testFolder()
  await library.moveTo(to)
  await library.close()
  await rm(to, { recursive: true })
  await expect(openLibrary(home)).rejects.toMatchObject({ code: 'file-missing' })
  expect(await readdir(home)).toEqual(['moved-to.json'])
})

describe('a program that was killed while it moved the library', () => {
  /** A library and a folder as such a program leaves them: copied, but not yet remembered. */
  async function killedWhileCopying() {
    const library = await filledLibrary()
    const home = library.folder
    await library.close()
    const to = await testFolder()
    await beginMove(to, { from: home, home })
    await copyLibrary(home, to)
    await writeFile(join(to, 'in-use.json'), '{"pid":1,"host":"here"}')
    return { home, to }
  }

  test('before everything had arrived: the library is where it was, and moves there when asked again', async () => {
    const { home, to } = await killedWhileCopying()
    const library = await testLibrary(home)
    expect(library.folder).toBe(home)
    await library.moveTo(to)
    expect(library.dogs.list()).toEqual([juno])
    expect((await readdir(to)).filter((name) => name.startsWith('moving'))).toEqual([])
    expect(await readdir(home)).toEqual(['moved-to.json'])
  })

  test('the unfinished copy is not taken for a library, nor removed once something else lies in it', async () => {
    const { home, to } = await killedWhileCopying()
    await expect(openLibrary(to)).rejects.toThrow('unfinished copy of a library that was being moved')
    await writeFile(join(to, 'mine.txt'), 'mine')
    const library = await testLibrary(home)
    await expect(library.moveTo(to)).rejects.toThrow('holds other things (mine.txt)')
    expect(await readdir(join(to, 'dogs'))).toEqual(['juno'])
  })

  test('after everything had arrived: the library is in its new place, and the old one is cleared', async () => {
    const { home, to } = await killedWhileCopying()
    await rememberFolder(home, to)
    const library = await testLibrary(home)
    expect(library.folder).toBe(to)
    expect(library.rides.cards()).toHaveLength(1)
    expect(await readdir(home)).toEqual(['moved-to.json'])
  })

  test('an old place in which somebody went on is not cleared, and is told', async () => {
    const { home, to } = await killedWhileCopying()
    const gone = await openLibrary(home)
    await gone.dogs.put({ ...juno, id: 'later' })
    await gone.close()
    await rememberFolder(home, to)
    const notes: string[] = []
    await testLibrary(home, { onNote: (note) => notes.push(note) })
    expect(notes).toEqual([`The library is in ${to} now; ${home} holds other changes than it.`])
    expect((await readdir(join(home, 'dogs'))).toSorted()).toEqual(['juno', 'later'])
  })
})

test.skipIf(process.platform !== 'linux')('a folder that can never be made is refused, and changes go on', async () => {
  const library = await filledLibrary()
  await expect(library.moveTo('/proc/nowhere/deep')).rejects.toThrow('cannot be made or written')
  await library.dogs.put({ ...juno, id: 'after' })
  expect(library.dogs.list()).toHaveLength(2)
  await expect(openLibrary('/proc/nowhere/deep')).rejects.toMatchObject({ code: 'failed' })
})

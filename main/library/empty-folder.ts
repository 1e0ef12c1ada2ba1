import { readdir, realpath } from 'node:fs/promises'
import { basename, dirname, isAbsolute, join, relative, resolve } from 'node:path'
import { makeFolder } from '../files/make-folder.ts'
import { isMissing } from './kept-files.ts'
import { MOVED_TO } from './library-folder.ts'
import { LibraryProblem } from './library-problem.ts'
import { isOfLock } from './move-library.ts'
import { clearUnfinishedCopy, otherThings } from './unfinished-move.ts'

/** Makes sure that a library may move from `from` to `wanted`; gives the new folder, which is there. */
export async function folderToMoveTo(wanted: string, from: string): Promise<string> {
  const refuse = (what: string) => refusal(wanted, what)
  if (!isAbsolute(wanted)) throw refuse('give the full path, from the drive or root on')
  // With links followed, as far as the folder is there already.
  if (await isInside(wanted, from)) {
    throw refuse('this is inside the library itself; choose another folder')
  }
  try {
    await makeFolder(wanted)
    const to = await realpath(wanted)
    const [found] = await otherThings(to)
    if (found !== undefined) throw holds(wanted, found)
    return to
  } catch (error) {
    if (error instanceof LibraryProblem) throw error
    const code = error instanceof Error && 'code' in error ? error.code : undefined
    if (code === 'EEXIST' || code === 'ENOTDIR') throw refuse('this is a file; choose a folder')
    throw refuse('the folder cannot be made or written; choose another one')
  }
}

/** Whether a folder, there or not, is `folder` or lies in it; with links followed. */
export async function isInside(wanted: string, folder: string): Promise<boolean> {
  return isWithin(await realFolder(resolve(wanted)), await realpath(folder))
}

/** Clears a locked folder of what an earlier move to it has left, and makes sure that nothing else is in it. */
export async function makeEmpty(to: string): Promise<void> {
  await clearUnfinishedCopy(to)
  const found = (await readdir(to)).find((name) => name !== MOVED_TO && !isOfLock(name))
  if (found !== undefined) throw holds(to, found)
}

function holds(folder: string, name: string): LibraryProblem {
  return refusal(folder, `the folder holds other things (${name}); choose an empty one`)
}

function refusal(folder: string, what: string): LibraryProblem {
  return new LibraryProblem('bad-input', `The library cannot move to ${folder}: ${what}.`)
}

async function realFolder(path: string): Promise<string> {
  try {
    return await realpath(path)
  } catch (error) {
    if (!isMissing(error) || dirname(path) === path) return path
    return join(await realFolder(dirname(path)), basename(path))
  }
}

function isWithin(path: string, folder: string): boolean {
  const from = relative(folder, path)
  return from === '' || (!isAbsolute(from) && from.split(/[\\/]/)[0] !== '..')
}

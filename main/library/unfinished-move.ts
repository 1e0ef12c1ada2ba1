import { readdir, readFile, realpath, rm, rmdir } from 'node:fs/promises'
import { join } from 'node:path'
import { z } from 'zod'
import { writeWholeText } from '../files/whole-file.ts'
import { lockFolder } from './folder-lock.ts'
import { journalsIn } from './journal.ts'
import { INDEX_FILE, isMissing } from './kept-files.ts'
import { folderOfLibrary, MOVED_TO } from './library-folder.ts'
import { LibraryProblem } from './library-problem.ts'
import { isOfLibrary, isOfLock, removeLibrary } from './move-library.ts'

/** Lies in the new folder from before the first file is copied until the old one is cleared. */
const MOVING = 'moving-here.json'

const noteShape = z.object({ from: z.string(), home: z.string() })

/** Where a library that is on its way comes from, and the first folder, which says where it lies. */
export type MoveNote = z.infer<typeof noteShape>

export async function beginMove(to: string, note: MoveNote): Promise<void> {
  await writeWholeText(join(to, MOVING), `${JSON.stringify(note)}\n`)
}

export async function endMove(to: string): Promise<void> {
  await rm(join(to, MOVING), { force: true })
}

/** Removes what a move that was broken off has left in a locked folder; nothing where it holds anything else. */
export async function clearUnfinishedCopy(to: string): Promise<void> {
  const note = await noteIn(to)
  if (note === null || (await isArrived(to, note))) return
  if ((await otherThings(to)).length > 0) return
  await removeLibrary(to)
  await endMove(to)
}

/** What a folder holds that is neither of a library nor of moving one. */
export async function otherThings(folder: string): Promise<string[]> {
  const isKnown = (name: string) => name === MOVING || name === MOVED_TO || isOfLibrary(name) || isOfLock(name)
  return (await readdir(folder)).filter((name) => !isKnown(name))
}

/**
 * Before a library is opened: ends a move that was broken off after everything had arrived. A copy that never became
 * the library is refused, since the library itself is elsewhere.
 */
export async function settleMove(folder: string, onNote: (sentence: string) => void): Promise<void> {
  const note = await noteIn(folder)
  if (note === null) return
  if (!(await isArrived(folder, note))) {
    const advice = `open ${note.home}, or delete this folder`
    throw new LibraryProblem(
      'refused',
      `${folder} is the unfinished copy of a library that was being moved: ${advice}.`,
    )
  }
  try {
    if (await isLikeCopy(note.from, folder)) await clearOldFolder(note.from)
    else onNote(`The library is in ${folder} now; ${note.from} holds other changes than it.`)
  } catch {
    onNote(`The library is in ${folder} now; what is left of it in ${note.from} can be deleted.`)
  }
  await endMove(folder)
}

async function clearOldFolder(from: string): Promise<void> {
  const lock = await lockFolder(from, () => undefined)
  await removeLibrary(from)
  await lock.release()
  await rmdir(from).catch(() => undefined)
}

/** Whether nothing was changed in the old folder since it was copied. */
async function isLikeCopy(from: string, copy: string): Promise<boolean> {
  const indices = await Promise.all([from, copy].map((folder) => readFile(join(folder, INDEX_FILE), 'utf8')))
  return indices[0] === indices[1] && (await journalsIn(from)).length === 0
}

async function noteIn(folder: string): Promise<MoveNote | null> {
  try {
    return noteShape.parse(JSON.parse(await readFile(join(folder, MOVING), 'utf8')))
  } catch (error) {
    if (isMissing(error)) return null
    throw error
  }
}

/** Whether the library's first folder says that it lies here. */
async function isArrived(folder: string, { home }: MoveNote): Promise<boolean> {
  try {
    return (await realpath(await folderOfLibrary(home))) === folder
  } catch {
    return false
  }
}

import { createHash } from 'node:crypto'
import { createReadStream } from 'node:fs'
import { copyFile, mkdir, readdir, realpath, rm, rmdir } from 'node:fs/promises'
import { basename, dirname, isAbsolute, join, relative, resolve } from 'node:path'
import { pipeline } from 'node:stream/promises'
import { flush } from '../files/whole-file.ts'
import { BIN } from './bin-folder.ts'
import { CLIP_FILES, INDEX_FILE, isMissing, KINDS, PICTURES } from './kept-files.ts'
import { LIBRARY_FILE, MOVED_TO } from './library-folder.ts'
import { LibraryProblem } from './library-problem.ts'

/** What is copied when a library moves. Prepared pictures stay behind: they are made anew when needed. */
const MOVED = [LIBRARY_FILE, INDEX_FILE, ...KINDS, CLIP_FILES, BIN]

/** Makes sure that a library may move from `from` to `wanted`; gives the new folder, which is there and empty. */
export async function emptyFolder(wanted: string, from: string): Promise<string> {
  const refuse = (what: string) => new LibraryProblem('bad-input', `The library cannot move to ${wanted}: ${what}.`)
  if (!isAbsolute(wanted)) throw refuse('give the whole path, from the drive or root on')
  // With links followed, as far as the folder is there already.
  if (isWithin(await realFolder(resolve(wanted)), await realpath(from))) {
    throw refuse('this is inside the library itself; choose another folder')
  }
  try {
    await mkdir(wanted, { recursive: true })
    const to = await realpath(wanted)
    const found = (await readdir(to)).filter((name) => name !== MOVED_TO)
    if (found.length > 0) throw refuse(`the folder holds other things (${found[0]}); choose an empty one`)
    return to
  } catch (error) {
    if (error instanceof LibraryProblem) throw error
    const code = error instanceof Error && 'code' in error ? error.code : undefined
    if (code === 'EEXIST' || code === 'ENOTDIR') throw refuse('this is a file; choose a folder')
    throw refuse('the folder cannot be made or written; choose another one')
  }
}

async function realFolder(path: string): Promise<string> {
  try {
    return await realpath(path)
  } catch (error) {
    if (!isMissing(error) || dirname(path) === path) return path
    return join(await realFolder(dirname(path)), basename(path))
  }
}

/** Copies everything that moves, makes sure that it is on the disk, and compares every file with its copy. */
export async function copyLibrary(from: string, to: string): Promise<void> {
  for (const name of MOVED) await copyTree(join(from, name), join(to, name))
  await flush(to, 'r')
}

/** Removes a library's own files from a folder, and the folder if nothing else is in it. */
export async function removeLibrary(folder: string): Promise<void> {
  for (const name of [...MOVED, PICTURES]) await rm(join(folder, name), { recursive: true, force: true })
  // Stays where it holds other things, for instance the note of where the library went.
  await rmdir(folder).catch(() => undefined)
}

async function copyTree(from: string, to: string): Promise<void> {
  let entries
  try {
    entries = await readdir(from, { withFileTypes: true })
  } catch (error) {
    if (isMissing(error)) return
    if (error instanceof Error && 'code' in error && error.code === 'ENOTDIR') return copyWhole(from, to)
    throw error
  }
  await mkdir(to, { recursive: true })
  for (const entry of entries) await copyTree(join(from, entry.name), join(to, entry.name))
  await flush(to, 'r')
}

async function copyWhole(from: string, to: string): Promise<void> {
  await copyFile(from, to)
  await flush(to, 'r+')
  const [was, is] = [await hashOf(from), await hashOf(to)]
  if (was !== is) throw new LibraryProblem('failed', `The copy ${to} is not like its original: is the disk sound?`)
}

async function hashOf(path: string): Promise<string> {
  const hash = createHash('sha256')
  await pipeline(createReadStream(path), hash)
  return hash.digest('hex')
}

function isWithin(path: string, folder: string): boolean {
  const from = relative(folder, path)
  return from === '' || (!isAbsolute(from) && from.split(/[\\/]/)[0] !== '..')
}

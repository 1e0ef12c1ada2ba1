import { createHash } from 'node:crypto'
import { createReadStream } from 'node:fs'
import { copyFile, mkdir, readdir, rm, rmdir } from 'node:fs/promises'
import { join } from 'node:path'
import { pipeline } from 'node:stream/promises'
import { flush } from '../files/whole-file.ts'
import { BIN } from './bin-folder.ts'
import { LOCK, OWNER } from './folder-lock.ts'
import { CLIP_FILES, INDEX_FILE, isMissing, noEntries, PACKS, PICTURES } from './kept-files.ts'
import { KINDS } from './kinds.ts'
import { LIBRARY_FILE } from './library-folder.ts'
import { SET_ASIDE } from './set-aside.ts'
import { LibraryProblem } from './library-problem.ts'

/** What is copied when a library moves. Prepared pictures stay behind: they are made anew when needed. */
const MOVED = [LIBRARY_FILE, INDEX_FILE, ...KINDS, CLIP_FILES, PACKS, BIN, SET_ASIDE]

/** Copies everything that moves, makes sure that it is on the disk, and compares every file with its copy. */
export async function copyLibrary(from: string, to: string): Promise<void> {
  for (const name of MOVED) await copyTree(join(from, name), join(to, name))
  await flush(to, 'r')
}

/** Whether a file or folder of this name, in a library's folder, is one of its own. */
export function isOfLibrary(name: string): boolean {
  return [...MOVED, PICTURES].includes(name) || OWN.some((pattern) => pattern.test(name))
}

/** Whether it is a lock, or what is left of one. */
export function isOfLock(name: string): boolean {
  return name.startsWith(LOCK) || name === OWNER
}

/** Journals, and what a program that was killed left half written. */
const OWN = [/^changes-\d+\.log$/, /^(index|library)\.json\.tmp-/, /^\..*\.part$/]

/** Removes a library's own files from a folder but its lock, and the folder if nothing else is in it. */
export async function removeLibrary(folder: string): Promise<void> {
  const names = await readdir(folder).catch(noEntries)
  for (const name of names.filter(isOfLibrary)) await rm(join(folder, name), { recursive: true, force: true })
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

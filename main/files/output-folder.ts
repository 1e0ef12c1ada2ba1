import { constants } from 'node:fs'
import { access, readdir, rm } from 'node:fs/promises'
import { join } from 'node:path'
import type { Parsed } from './parsed.ts'
import { makeFolder } from './make-folder.ts'
import { ownerOfPart } from './whole-file.ts'

/**
 * Makes a folder for results, with all folders above it, and checks that files can be written there. Half-written files
 * of a run that was killed are removed.
 */
export async function prepareOutputFolder(path: string): Promise<Parsed<string>> {
  try {
    await makeFolder(path)
    await access(path, constants.W_OK | constants.X_OK)
    for (const name of await readdir(path)) {
      const owner = ownerOfPart(name)
      if (owner !== null && !isRunning(owner)) await rm(join(path, name), { force: true })
    }
    return { ok: true, value: path }
  } catch (error) {
    return { ok: false, message: `--out ${path}: ${whyNot(error)}` }
  }
}

/** Results could not be written; the message is one sentence that names the file. */
export class OutputProblem extends Error {}

/** Runs `write`; what the file system refuses becomes an `OutputProblem`. */
export async function writingResults<T>(write: () => Promise<T>): Promise<T> {
  try {
    return await write()
  } catch (error) {
    const { code, path } = error as NodeJS.ErrnoException
    const why = WRITE_FAILURES[code ?? '']
    if (why === undefined) throw error
    throw new OutputProblem(`${resultOf(error as NodeJS.ErrnoException) ?? path ?? 'The results'}: ${why}`)
  }
}

const WRITE_FAILURES: Readonly<Record<string, string>> = {
  ENOSPC: 'the disk is full; make room there or give another folder with --out',
  EDQUOT: 'your share of the disk is used up; make room there or give another folder with --out',
  EISDIR: 'a folder has this name; move it away or give another folder with --out',
  ENOTEMPTY: 'a folder has this name; move it away or give another folder with --out',
  ENOENT: 'the folder has gone while measuring; give another one with --out',
  ENOTDIR: 'the folder has gone while measuring; give another one with --out',
  EACCES: 'may not be written; give another folder with --out',
  EPERM: 'may not be written; give another folder with --out',
  EROFS: 'this disk can only be read; give another folder with --out',
  EIO: 'the disk cannot be written; give another folder with --out',
}

/** The file that was to be written: a part file takes its place last. */
function resultOf(error: NodeJS.ErrnoException): string | undefined {
  const { dest } = error as NodeJS.ErrnoException & { dest?: string }
  return dest
}

function isRunning(processId: number): boolean {
  try {
    process.kill(processId, 0)
    return true
  } catch (error) {
    return error instanceof Error && 'code' in error && error.code === 'EPERM'
  }
}

function whyNot(error: unknown): string {
  const code = error instanceof Error && 'code' in error ? error.code : undefined
  if (code === 'EEXIST' || code === 'ENOTDIR') return 'is a file, not a folder; give another name'
  if (code === 'EACCES' || code === 'EPERM' || code === 'EROFS') return 'may not be written to; give another folder'
  if (code === 'ENOENT') return 'cannot be made there; give another folder'
  if (code === 'ENOSPC') return 'the disk is full; give another folder'
  return `cannot be made (${error instanceof Error ? error.message : String(error)})`
}

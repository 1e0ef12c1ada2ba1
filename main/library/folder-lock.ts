import { readFile, rm, stat } from 'node:fs/promises'
import { hostname } from 'node:os'
import { join } from 'node:path'
import { lock } from 'proper-lockfile'
import { writeWholeText } from '../files/whole-file.ts'
import { LibraryProblem } from './library-problem.ts'

export const LOCK = 'in-use.lock'
export const OWNER = 'in-use.json'

/** How often an owner shows that it is alive, ms. */
const showEveryMs = 1000
/** After this long without a sign of an owner whose process is gone, its lock is taken over, ms. */
const deadAfterMs = 2000
/** The same for an owner that may be alive: on another machine, or a new program that got its process number. */
const silentAfterMs = 30_000

interface Owner {
  readonly pid: number
  readonly host: string
}

/**
 * Takes a folder for this program alone, until the returned function is called or the program ends. The lock of a
 * killed program is taken over.
 *
 * @param onLost called when the lock is lost (the folder is gone, or the machine slept and another took it)
 */
export async function lockFolder(folder: string, onLost: () => void): Promise<() => Promise<void>> {
  const lockPath = join(folder, LOCK)
  const ownerPath = join(folder, OWNER)
  const owner = await ownerIn(ownerPath)
  const isGone = owner !== null && owner.host === hostname() && !isRunning(owner.pid)
  const isHeld = owner !== null && !isGone && (await ageMs(lockPath)) < silentAfterMs
  if (isHeld) throw inUse(folder, owner)
  let release: () => Promise<void>
  try {
    release = await lock(folder, {
      lockfilePath: lockPath,
      stale: isGone ? deadAfterMs : silentAfterMs,
      update: showEveryMs,
      // Long enough for the lock of a killed program to fall silent.
      retries: isGone ? { retries: 14, factor: 1, minTimeout: 250, maxTimeout: 250 } : 0,
      onCompromised: onLost,
    })
  } catch (error) {
    if (error instanceof Error && 'code' in error && error.code === 'ELOCKED') throw inUse(folder, owner)
    throw error
  }
  await writeWholeText(ownerPath, `${JSON.stringify({ pid: process.pid, host: hostname() } satisfies Owner)}\n`)
  return async () => {
    await rm(ownerPath, { force: true })
    // A lock that is gone already is let go of.
    await release().catch(() => undefined)
  }
}

function inUse(folder: string, owner: Owner | null): LibraryProblem {
  const elsewhere = owner !== null && owner.host !== hostname() ? ` on the machine ${owner.host}` : ''
  const advice = 'close it there first; if none is open, wait half a minute and try again'
  return new LibraryProblem('in-use', `The library ${folder} is open in another Tiphold${elsewhere}: ${advice}.`)
}

async function ownerIn(path: string): Promise<Owner | null> {
  try {
    const { pid, host } = JSON.parse(await readFile(path, 'utf8')) as Partial<Owner>
    return typeof pid === 'number' && typeof host === 'string' ? { pid, host } : null
  } catch {
    return null
  }
}

async function ageMs(path: string): Promise<number> {
  const found = await stat(path).catch(() => null)
  return found === null ? Infinity : Date.now() - found.mtimeMs
}

function isRunning(pid: number): boolean {
  try {
    process.kill(pid, 0)
    return true
  } catch (error) {
    // It runs, as somebody else's.
    return error instanceof Error && 'code' in error && error.code === 'EPERM'
  }
}

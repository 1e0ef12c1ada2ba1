import { randomUUID } from 'node:crypto'
import { readFile, rename, rm, stat } from 'node:fs/promises'
import { hostname } from 'node:os'
import { join } from 'node:path'
import { setTimeout as wait } from 'node:timers/promises'
import { lock } from 'proper-lockfile'
import { z } from 'zod'
import { writeWholeText } from '../files/whole-file.ts'
import { isMissing } from './kept-files.ts'
import { LibraryProblem } from './library-problem.ts'
import { isSameProcess, isSameSystem, thisProcess } from './process-identity.ts'

export const LOCK = 'in-use.lock'
export const OWNER = 'in-use.json'

/** How often an owner shows that it is alive, ms. */
const showEveryMs = 1000
/** An owner that cannot be asked whether it runs, and gave a sign within this time, is believed alive, ms. */
const silentAfterMs = 30_000
/** Clocks of two machines may differ: a sign from further ahead than this, ms, says nothing. */
const aheadMs = 5000
/** So long such an owner's lock is watched for a sign before it is taken over, ms. */
const watchMs = 3000

const ownerShape = z.object({
  pid: z.number(),
  host: z.string(),
  system: z.string().nullish(),
  startedAt: z.string().nullish(),
  token: z.string().nullish(),
})
type Owner = z.infer<typeof ownerShape>

/** A folder that this program alone may write. */
export interface FolderLock {
  /**
   * Whether it still is ours. Asked after a change and before it is called done: a program that takes a lock over says
   * so in the folder before it reads anything, so what was done by then it will see.
   */
  isOurs(): Promise<boolean>
  release(): Promise<void>
}

/**
 * Takes a folder for this program alone, until it is released or the program ends. The lock of a program that no longer
 * runs is taken over; that of one that is only suspended is not.
 *
 * @param onLost called when the lock is lost (the folder is gone, or another machine took it while this one slept)
 */
export async function lockFolder(folder: string, onLost: () => void): Promise<FolderLock> {
  const lockPath = join(folder, LOCK)
  const ownerPath = join(folder, OWNER)
  const owner = await ownerIn(ownerPath)
  if (await isHeld(owner, lockPath)) throw inUse(folder, owner)
  await putAway(lockPath)
  let release: () => Promise<void>
  try {
    release = await lock(folder, {
      lockfilePath: lockPath,
      stale: silentAfterMs,
      update: showEveryMs,
      retries: 0,
      onCompromised: onLost,
    })
  } catch (error) {
    if (error instanceof Error && 'code' in error && error.code === 'ELOCKED') throw inUse(folder, owner)
    throw error
  }
  const token = randomUUID()
  const us = { ...(await thisProcess()), host: hostname(), token } satisfies Owner
  await writeWholeText(ownerPath, `${JSON.stringify(us)}\n`)
  const isOurs = async () => (await ownerIn(ownerPath))?.token === token
  return {
    isOurs,
    release: async () => {
      if (await isOurs()) await rm(ownerPath, { force: true })
      // A lock that is gone already is let go of.
      await release().catch(() => undefined)
    },
  }
}

/** Whether the lock is that of a program that may still write. */
async function isHeld(owner: Owner | null, lockPath: string): Promise<boolean> {
  const seenMs = await signMs(lockPath)
  if (seenMs === null) return false
  if (owner !== null && (await isSameSystem(owner))) return isSameProcess(owner)
  const ageMs = Date.now() - seenMs
  if (ageMs > -aheadMs && ageMs < silentAfterMs) return true
  await wait(watchMs)
  const nowMs = await signMs(lockPath)
  return nowMs !== null && nowMs !== seenMs
}

/** Of several that take a lock over, one moves it out of the way. */
async function putAway(lockPath: string): Promise<void> {
  const aside = `${lockPath}.${randomUUID()}`
  try {
    await rename(lockPath, aside)
    await rm(aside, { recursive: true, force: true })
  } catch (error) {
    if (!isMissing(error)) throw error
  }
}

function inUse(folder: string, owner: Owner | null): LibraryProblem {
  const elsewhere = owner !== null && owner.host !== hostname() ? ` on the machine ${owner.host}` : ''
  const advice = 'close it there first; if none is open, wait half a minute and try again'
  return new LibraryProblem('in-use', `The library ${folder} is open in another Tiphold${elsewhere}: ${advice}.`)
}

/** Who holds the folder; null where nobody says so. */
async function ownerIn(path: string): Promise<Owner | null> {
  try {
    return ownerShape.parse(JSON.parse(await readFile(path, 'utf8')))
  } catch (error) {
    if (isMissing(error) || error instanceof SyntaxError || error instanceof z.ZodError) return null
    throw error
  }
}

/** When the owner last showed that it is alive, ms since 1970 by its clock; null where there is no lock. */
async function signMs(lockPath: string): Promise<number | null> {
  return (await stat(lockPath).catch(() => null))?.mtimeMs ?? null
}

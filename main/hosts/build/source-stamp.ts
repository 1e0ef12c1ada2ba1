import { createHash } from 'node:crypto'
import { readFileSync } from 'node:fs'
import { mkdir, readdir, readFile, rm, writeFile } from 'node:fs/promises'
import { dirname, join, relative } from 'node:path'

/** The project's root, seen from here. */
export const ROOT = join(import.meta.dirname, '../../..')

/** What a build is made of: one hash over every file below `places`, which are folders or files from the root. */
export async function sourceStamp(places: readonly string[]): Promise<string> {
  const files = (await Promise.all(places.map((place) => filesBelow(join(ROOT, place))))).flat().sort()
  const hash = createHash('sha256')
  for (const file of files) hash.update(relative(ROOT, file)).update('\0').update(readFileSync(file)).update('\0')
  return hash.digest('hex')
}

async function filesBelow(place: string): Promise<string[]> {
  const entries = await readdir(place, { recursive: true, withFileTypes: true }).catch(() => null)
  if (entries === null) return [place]
  return entries.filter((entry) => entry.isFile()).map((entry) => join(entry.parentPath, entry.name))
}

/** Does the work unless its last result was made of the same sources; true if there was work to do. */
export async function unlessUpToDate(stampFile: string, stamp: string, work: () => Promise<void>): Promise<boolean> {
  const last = await readFile(stampFile, 'utf8').catch(() => '')
  if (last === stamp) return false
  await rm(stampFile, { force: true })
  await work()
  await mkdir(dirname(stampFile), { recursive: true })
  await writeFile(stampFile, stamp)
  return true
}

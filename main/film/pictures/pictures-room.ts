import { readdir, rm, stat } from 'node:fs/promises'
import { join } from 'node:path'

/** Prepared pictures of one clip on the disk. */
interface Held {
  readonly folder: string
  readonly bytes: number
  /** Of its latest file. */
  readonly usedMs: number
}

/** Throws prepared pictures away, those first that were not used for longest, until all are within `mostBytes`. */
export async function makeRoom(picturesFolder: string, mostBytes: number, keep: string): Promise<void> {
  const held = await heldIn(picturesFolder)
  let bytes = held.reduce((sum, one) => sum + one.bytes, 0)
  for (const one of held.sort((a, b) => a.usedMs - b.usedMs)) {
    if (bytes <= mostBytes) return
    if (one.folder === join(picturesFolder, keep)) continue
    await rm(one.folder, { recursive: true, force: true })
    bytes -= one.bytes
  }
}

/** Throws away what was being prepared when the program ended. Call before anything is prepared. */
export async function sweepUnfinished(picturesFolder: string): Promise<void> {
  for (const file of await readdir(picturesFolder, { recursive: true }).catch(() => [])) {
    if (file.endsWith('.part')) await rm(join(picturesFolder, file), { force: true })
  }
}

async function heldIn(picturesFolder: string): Promise<Held[]> {
  const entries = await readdir(picturesFolder, { withFileTypes: true }).catch(() => [])
  return Promise.all(
    entries.filter((entry) => entry.isDirectory()).map((entry) => sized(join(picturesFolder, entry.name))),
  )
}

async function sized(folder: string): Promise<Held> {
  let bytes = 0
  let usedMs = 0
  for (const name of await readdir(folder, { recursive: true }).catch(() => [])) {
    const file = await stat(join(folder, name)).catch(() => null)
    if (file?.isFile() !== true) continue
    bytes += file.size
    usedMs = Math.max(usedMs, file.mtimeMs)
  }
  return { folder, bytes, usedMs }
}

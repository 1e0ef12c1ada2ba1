import { rmSync } from 'node:fs'
import { open, rename, rm, writeFile } from 'node:fs/promises'
import { basename, dirname, join } from 'node:path'

/** Part files that exist right now: removed should the process end before they are done. */
const partPaths = new Set<string>()

process.on('exit', () => {
  for (const path of partPaths) rmSync(path, { force: true })
})

/**
 * Writes a file whole or not at all: `write` fills a part file in the same folder, which then takes the place of
 * `path` in one step. If `write` fails, `path` is as it was.
 */
export async function writeWhole(path: string, write: (partPath: string) => Promise<void>): Promise<void> {
  const partPath = join(dirname(path), partName(basename(path)))
  partPaths.add(partPath)
  try {
    await write(partPath)
    await flush(partPath, 'r+')
    await rename(partPath, path)
    await flush(dirname(path), 'r')
  } finally {
    await rm(partPath, { force: true })
    partPaths.delete(partPath)
  }
}

function partName(name: string): string {
  return `.${name}.${process.pid}.part`
}

/** The number of the process that was writing a result's part file of this name; null for any other name. */
export function ownerOfPart(name: string): number | null {
  const owner = /^\.(?:ride|overlay|droptest)(?:-\d+)?\.(?:json|html|mp4)\.(\d+)\.part$/.exec(name)?.[1]
  return owner === undefined ? null : Number(owner)
}

export async function writeWholeText(path: string, text: string): Promise<void> {
  await writeWhole(path, (partPath) => writeFile(partPath, text))
}

/** Makes sure that a file or folder is on the disk. Some systems cannot do that for folders, and need not. */
export async function flush(path: string, mode: 'r' | 'r+'): Promise<void> {
  const handle = await open(path, mode).catch(() => null)
  if (handle === null) return
  try {
    await handle.sync()
  } catch {
    // Not every file system can; the rename itself is still whole.
  } finally {
    await handle.close()
  }
}

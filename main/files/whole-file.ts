import { rmSync } from 'node:fs'
import { type FileHandle, open, rename, rm, writeFile } from 'node:fs/promises'
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
  const owner =
    /^\.(?:ride|overlay|droptest|boardcheck|showcheck|rides|dog)(?:-\d+)?\.(?:json|html|pdf|csv|mp4)\.(\d+)\.part$/.exec(
      name,
    )?.[1]
  return owner === undefined ? null : Number(owner)
}

export async function writeWholeText(path: string, text: string): Promise<void> {
  await writeWhole(path, (partPath) => writeFile(partPath, text))
}

export async function writeWholeBytes(path: string, bytes: Uint8Array): Promise<void> {
  await writeWhole(path, (partPath) => writeFile(partPath, bytes))
}

/**
 * Makes sure that a file (`r+`) or a folder (`r`) is on the disk. Some systems cannot do that for folders, and some file
 * systems not at all; that is no fault. A disk that fails or is full is one.
 */
export async function flush(path: string, mode: 'r' | 'r+'): Promise<void> {
  let handle: FileHandle
  try {
    handle = await open(path, mode)
  } catch (error) {
    if (mode === 'r') return
    throw error
  }
  try {
    await handle.sync()
  } catch (error) {
    const code = error instanceof Error && 'code' in error ? error.code : undefined
    const isFault = code === 'EIO' || code === 'ENOSPC' || code === 'EDQUOT'
    if (isFault) throw error
  } finally {
    await handle.close()
  }
}

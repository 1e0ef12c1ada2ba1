import { mkdir, stat } from 'node:fs/promises'
import { dirname } from 'node:path'

/**
 * Makes a folder and those above it that are missing. Unlike `mkdir` with `recursive` it ends where a folder can never
 * be made although the one above is there, as below /proc.
 */
export async function makeFolder(path: string): Promise<void> {
  try {
    await mkdir(path)
  } catch (error) {
    const code = error instanceof Error && 'code' in error ? error.code : undefined
    if (await isFolder(path)) return
    if (code !== 'ENOENT' || dirname(path) === path || (await isFolder(dirname(path)))) throw error
    await makeFolder(dirname(path))
    await makeFolder(path)
  }
}

async function isFolder(path: string): Promise<boolean> {
  return (await stat(path).catch(() => null))?.isDirectory() === true
}

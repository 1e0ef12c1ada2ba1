import { mkdir, stat } from 'node:fs/promises'
import { dirname, resolve } from 'node:path'

/**
 * Makes a folder and all that are missing above it, one by one. Node's own recursive `mkdir` never returns where the
 * system says that a folder is not there and will not make it either, as below /proc.
 */
export async function makeFolder(path: string): Promise<void> {
  const missing: string[] = []
  let folder = resolve(path)
  while (!(await isThere(folder))) {
    missing.push(folder)
    if (dirname(folder) === folder) break
    folder = dirname(folder)
  }
  for (const one of missing.reverse()) {
    await mkdir(one).catch((error: unknown) => {
      // Another program may have made it meanwhile.
      if (!(error instanceof Error && 'code' in error && error.code === 'EEXIST')) throw error
    })
  }
  // A file of this name is not the folder.
  if (!(await stat(path)).isDirectory()) throw Object.assign(new Error('not a folder'), { code: 'ENOTDIR' })
}

async function isThere(path: string): Promise<boolean> {
  try {
    await stat(path)
    return true
  } catch (error) {
    if (error instanceof Error && 'code' in error && error.code === 'ENOENT') return false
    throw error
  }
}

import { readdir } from 'node:fs/promises'
import { extname, join } from 'node:path'

/** A file of the built window. */
export interface WindowFile {
  readonly path: string
  readonly type: string
}

const TYPES: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.woff2': 'font/woff2',
  '.json': 'application/json',
}

/**
 * The window's files by the path at which each is asked for, as in `/assets/index-1a2b.js`. What is not in the list
 * cannot be had, whatever a request says. Files of a type that a window does not have are left out.
 */
export async function windowFiles(folder: string, below = ''): Promise<ReadonlyMap<string, WindowFile>> {
  const entries = await readdir(folder, { withFileTypes: true })
  const files = new Map<string, WindowFile>()
  for (const entry of entries) {
    const path = join(folder, entry.name)
    const at = `${below}/${entry.name}`
    const type = TYPES[extname(entry.name)]
    if (entry.isDirectory()) for (const [key, file] of await windowFiles(path, at)) files.set(key, file)
    else if (type !== undefined) files.set(at, { path, type })
  }
  return files
}

import { constants } from 'node:fs'
import { access, mkdir } from 'node:fs/promises'
import type { Parsed } from './json-object.ts'

/** Makes a folder for results, with all folders above it, and checks that files can be written there. */
export async function prepareOutputFolder(path: string): Promise<Parsed<string>> {
  try {
    await mkdir(path, { recursive: true })
    await access(path, constants.W_OK | constants.X_OK)
    return { ok: true, value: path }
  } catch (error) {
    return { ok: false, message: `--out ${path}: ${whyNot(error)}` }
  }
}

function whyNot(error: unknown): string {
  const code = error instanceof Error && 'code' in error ? error.code : undefined
  if (code === 'EEXIST' || code === 'ENOTDIR') return 'is a file, not a folder; give another name'
  if (code === 'EACCES' || code === 'EPERM' || code === 'EROFS') return 'may not be written to; give another folder'
  return `cannot be made (${error instanceof Error ? error.message : String(error)})`
}

import { existsSync, readdirSync, readFileSync } from 'node:fs'
import { join, relative, sep } from 'node:path'

export const ROOT = join(import.meta.dirname, '../..')

export interface SourceFile {
  /** From the project's root, with forward slashes. */
  readonly path: string
  readonly text: string
}

/** Every TypeScript file below those of the given folders that exist. */
export function sourceFiles(...folders: readonly string[]): SourceFile[] {
  const present = folders.filter((folder) => existsSync(join(ROOT, folder)))
  return present.flatMap((folder) =>
    readdirSync(join(ROOT, folder), { recursive: true, withFileTypes: true })
      .filter((entry) => entry.isFile() && /\.tsx?$/.test(entry.name))
      .map((entry) => join(entry.parentPath, entry.name))
      .map((path) => ({ path: relative(ROOT, path).split(sep).join('/'), text: readFileSync(path, 'utf8') })),
  )
}

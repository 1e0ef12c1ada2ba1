import { existsSync, readFileSync } from 'node:fs'
import { dirname, join } from 'node:path'

/** A relative import or export, or a file found by its URL beside the module. */
const REFERENCE = /(?:from\s+|import\(|new URL\()\s*'(\.{1,2}\/[^']+)'/g

/** A module with everything that it imports, directly or not, and the files beside it that it loads; packages are left out. */
export function importClosure(entry: string): readonly string[] {
  const found = new Set<string>()
  const waiting = [entry]
  for (let file = waiting.pop(); file !== undefined; file = waiting.pop()) {
    if (found.has(file) || !existsSync(file)) continue
    found.add(file)
    if (!file.endsWith('.ts')) continue
    for (const [, path] of readFileSync(file, 'utf8').matchAll(REFERENCE)) waiting.push(join(dirname(file), path!))
  }
  return [...found].sort()
}

import { join, resolve } from 'node:path'
import { z } from 'zod'
import type { OwnRules } from '../../analysis/rules/own-rules.ts'
import { ownRules } from '../contract/settings.ts'
import { readJsonFile } from '../files/json-file.ts'
import { type Parsed, parsedAs } from '../files/parsed.ts'
import { folderOfLibrary, LIBRARY_FILE } from './library-folder.ts'
import { libraryProblem } from './library-problem.ts'

const kept = z.object({ settings: z.object({ ownRules: ownRules.nullish() }).nullish() })

/**
 * The handler's own rules as a library's settings hold them; only read, so that it may be open elsewhere meanwhile. The
 * message where there are none is a single line.
 */
export async function keptOwnRules(home: string): Promise<Parsed<OwnRules>> {
  let folder: string
  try {
    folder = await folderOfLibrary(resolve(home))
  } catch (error) {
    return { ok: false, message: libraryProblem(error, home).message }
  }
  const path = join(folder, LIBRARY_FILE)
  const json = await readJsonFile(path)
  if (!json.ok) return { ok: false, message: `No rules of your own are known: ${json.message}` }
  const read = parsedAs(kept, json.value, path)
  if (!read.ok) return read
  const own = read.value.settings?.ownRules ?? null
  if (own !== null) return { ok: true, value: own }
  return { ok: false, message: `${path}: holds no rules of your own; enter them in Settings, or name another library` }
}

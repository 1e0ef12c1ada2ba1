import { mkdir, readdir, readFile, rename, rm } from 'node:fs/promises'
import { dirname, join } from 'node:path'
import { jsonText } from '../files/json-file.ts'
import { flush, writeWholeText } from '../files/whole-file.ts'
import { INDEX_FILE, isId, isMissing, type Kept } from './kept-files.ts'
import { type Kind, KINDS } from './kinds.ts'
import { LIBRARY_FILE } from './library-folder.ts'
import { LibraryProblem } from './library-problem.ts'
import { formatAfter, type Migration, upgradeOf } from './migrations.ts'

/** Where the files of the new format lie until all of them are there. */
const NEXT = 'next'
/** In it: all of them are there, and this is their format. */
const COMPLETE = 'complete.json'

/**
 * Brings the library in `folder` to the format of this program: all of it or nothing. New files are written beside the
 * old ones; only when every one is there do they take their places, and a program that is killed while they do goes on
 * with it the next time. A library of a newer program is refused, and left as it is.
 */
export async function migrate(folder: string, migrations: readonly Migration[]): Promise<void> {
  const format = formatAfter(migrations)
  const next = join(folder, NEXT)
  const waiting = await formatIn(join(next, COMPLETE))
  const { oldest, newest } = await formatsOf(folder, format)
  if (Math.max(newest, waiting ?? 0) > format) throw newer(folder)
  if (waiting === format) return moveInPlace(folder)
  await rm(next, { recursive: true, force: true })
  if (oldest === format) return
  try {
    await writeNext(folder, migrations)
  } catch (error) {
    await rm(next, { recursive: true, force: true })
    throw unchanged(folder, error)
  }
  await moveInPlace(folder)
}

function newer(folder: string): LibraryProblem {
  const rest = 'was written by a newer Tiphold than this one: update Tiphold; nothing in it was changed'
  return new LibraryProblem('refused', `The library ${folder} ${rest}.`)
}

function unchanged(folder: string, error: unknown): LibraryProblem {
  const why = error instanceof Error ? error.message : String(error)
  const rest = 'nothing in it was changed; go on with the older Tiphold and report this'
  return new LibraryProblem(
    'failed',
    `The library ${folder} is from an older Tiphold and could not be brought up to date (${why}): ${rest}.`,
  )
}

/** The library's format as its file says or, where that is lost, as its cards say; that of this program where nothing is. */
async function formatsOf(
  folder: string,
  format: number,
): Promise<{ readonly oldest: number; readonly newest: number }> {
  const said = await formatIn(join(folder, LIBRARY_FILE))
  if (said !== null) return { oldest: said, newest: said }
  const cards = (await Promise.all(KINDS.map((kind) => cardsOf(folder, kind)))).flat()
  const formats = cards.map(({ kept }) => kept.format)
  const ofThis = formats.length === 0 ? [format] : formats
  return { oldest: ofThis.reduce((a, b) => Math.min(a, b)), newest: ofThis.reduce((a, b) => Math.max(a, b)) }
}

/** All files that change, in the new format, in the folder `next`. */
async function writeNext(folder: string, migrations: readonly Migration[]): Promise<void> {
  const format = formatAfter(migrations)
  const next = join(folder, NEXT)
  for (const kind of KINDS) {
    const upgrade = upgradeOf(migrations, kind)
    for (const { path, kept } of await cardsOf(folder, kind)) {
      if (kept.format === format) continue
      const now: Kept<unknown> = { ...kept, format, card: upgrade(kept.card, kept.format) }
      await mkdir(dirname(join(next, path)), { recursive: true })
      await writeWholeText(join(next, path), jsonText(now))
    }
  }
  const library = await jsonIn(join(folder, LIBRARY_FILE))
  const { settings, format: from } = (library ?? {}) as { readonly settings?: unknown; readonly format?: unknown }
  const settingsNow = typeof from === 'number' ? upgradeOf(migrations, 'settings')(settings, from) : undefined
  await mkdir(next, { recursive: true })
  await writeWholeText(join(next, LIBRARY_FILE), jsonText({ format, settings: settingsNow }))
  await writeWholeText(join(next, COMPLETE), jsonText({ format }))
}

/** The complete files of the new format take the places of the old ones; done again after a kill, it goes on. */
async function moveInPlace(folder: string): Promise<void> {
  const next = join(folder, NEXT)
  await rm(join(folder, INDEX_FILE), { force: true })
  for (const kind of KINDS) {
    for (const id of await foldersIn(join(next, kind))) {
      const file = join(kind, id, 'card.json')
      await rename(join(next, file), join(folder, file)).catch(ignoreMissing)
      await flush(join(folder, kind, id), 'r')
    }
  }
  await rename(join(next, LIBRARY_FILE), join(folder, LIBRARY_FILE)).catch(ignoreMissing)
  await flush(folder, 'r')
  await rm(next, { recursive: true, force: true })
}

interface FoundCard {
  /** Below the library's folder. */
  readonly path: string
  readonly kept: Kept<unknown>
}

/** The cards of one kind that can be read; others stay as they are. */
async function cardsOf(folder: string, kind: Kind): Promise<FoundCard[]> {
  const found: FoundCard[] = []
  for (const id of await foldersIn(join(folder, kind))) {
    const path = join(kind, id, 'card.json')
    const kept = (await jsonIn(join(folder, path))) as Kept<unknown> | null
    if (typeof kept?.format === 'number') found.push({ path, kept })
  }
  return found
}

async function foldersIn(folder: string): Promise<string[]> {
  const names = await readdir(folder).catch((error: unknown) => {
    if (isMissing(error)) return []
    throw error
  })
  return names.filter(isId)
}

async function formatIn(path: string): Promise<number | null> {
  const format = ((await jsonIn(path)) as { readonly format?: unknown } | null)?.format
  return typeof format === 'number' ? format : null
}

/** What a JSON file holds; null where there is none, or it is damaged. */
async function jsonIn(path: string): Promise<unknown> {
  try {
    return JSON.parse(await readFile(path, 'utf8')) as unknown
  } catch (error) {
    if (isMissing(error) || error instanceof SyntaxError) return null
    throw error
  }
}

function ignoreMissing(error: unknown): void {
  if (!isMissing(error)) throw error
}

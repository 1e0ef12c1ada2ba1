import { join } from 'node:path'
import type { Dog, KeptBoard } from '../contract/dogs-and-boards.ts'
import { writeWholeText } from '../files/whole-file.ts'
import type { ClipOnDisk } from './clip-shelf.ts'
import { Journal, journalsIn, readJournal, removeJournal } from './journal.ts'
import { INDEX_FILE, type Kept, type KeptFiles, type Kind, KINDS } from './kept-files.ts'
import type { RideOnDisk } from './ride-shelf.ts'
import { openStoreFile, type StoreFile } from './store-file.ts'

/** What the card of each kind of thing is. */
export interface CardOf {
  readonly dogs: Dog
  readonly boards: KeptBoard
  readonly clips: ClipOnDisk
  readonly rides: RideOnDisk
}

export type AllKept = { readonly [K in Kind]: readonly Kept<CardOf[K]>[] }
export type AllFiles = { readonly [K in Kind]: KeptFiles<CardOf[K]> }

/** How many card files are read at a time. */
const atATime = 32

/**
 * The index: all cards of a library in one file, so that it opens fast. It is written now and then, and the journal
 * names what changed since. It holds nothing that the card files do not: damaged or lost, it is made anew from them.
 */
export class IndexFile {
  readonly #folder: string
  readonly #format: number
  #generation: number
  #journal: Journal
  #store: StoreFile | null

  private constructor(folder: string, format: number, generation: number, journal: Journal, store: StoreFile | null) {
    this.#folder = folder
    this.#format = format
    this.#generation = generation
    this.#journal = journal
    this.#store = store
  }

  /** Opens the index and gives what is kept, read from the card files where the index cannot know. */
  static async open(
    folder: string,
    format: number,
    files: AllFiles,
    onNote: (sentence: string) => void,
  ): Promise<{ readonly index: IndexFile; readonly kept: AllKept }> {
    const store = await openStoreFile(folder, 'index').catch(() => null)
    const found = store === null ? null : contentsOf(store, format)
    const journals = await journalsIn(folder)
    const isNewest = found !== null && journals.every((generation) => generation <= found.generation)
    if (!isNewest) {
      const generation = Math.max(0, found?.generation ?? 0, ...journals)
      const index = new IndexFile(folder, format, generation, new Journal(folder, generation, []), store)
      const kept = await readAll(files, onNote)
      await index.write(kept)
      for (const old of journals) await removeJournal(folder, old)
      return { index, kept }
    }
    const { generation } = found
    const touched = await readJournal(folder, generation)
    for (const old of journals) if (old < generation) await removeJournal(folder, old)
    const index = new IndexFile(folder, format, generation, new Journal(folder, generation, touched), store)
    const kept = {
      dogs: await reread(files.dogs, found.kept.dogs, touched, onNote),
      boards: await reread(files.boards, found.kept.boards, touched, onNote),
      clips: await reread(files.clips, found.kept.clips, touched, onNote),
      rides: await reread(files.rides, found.kept.rides, touched, onNote),
    }
    return { index, kept }
  }

  get journal(): Journal {
    return this.#journal
  }

  /** Writes everything into the index; the journal begins anew. */
  async write(kept: AllKept): Promise<void> {
    const next = this.#generation + 1
    this.#store ??= await overwritten(this.#folder)
    await this.#store.write({ format: this.#format, generation: next, ...kept })
    await this.#journal.remove()
    this.#generation = next
    this.#journal = new Journal(this.#folder, next, [])
  }
}

function contentsOf(store: StoreFile, format: number): { readonly generation: number; readonly kept: AllKept } | null {
  const contents = store.read()
  const { generation } = contents
  const isWhole = KINDS.every((kind) => Array.isArray(contents[kind]))
  if (contents['format'] !== format || typeof generation !== 'number' || !isWhole) return null
  const { dogs, boards, clips, rides } = contents as unknown as AllKept
  return { generation, kept: { dogs, boards, clips, rides } }
}

async function overwritten(folder: string): Promise<StoreFile> {
  await writeWholeText(join(folder, INDEX_FILE), '{}')
  return openStoreFile(folder, 'index')
}

async function readAll(files: AllFiles, onNote: (sentence: string) => void): Promise<AllKept> {
  return {
    dogs: await readCards(files.dogs, onNote),
    boards: await readCards(files.boards, onNote),
    clips: await readCards(files.clips, onNote),
    rides: await readCards(files.rides, onNote),
  }
}

async function readCards<Card extends { readonly id: string }>(
  files: KeptFiles<Card>,
  onNote: (sentence: string) => void,
): Promise<Kept<Card>[]> {
  const ids = await files.ids()
  const all: Kept<Card>[] = []
  for (let from = 0; from < ids.length; from += atATime) {
    const some = ids.slice(from, from + atATime)
    all.push(...(await Promise.all(some.map((id) => readCard(files, id, onNote)))).filter((kept) => kept !== null))
  }
  return all
}

async function readCard<Card extends { readonly id: string }>(
  files: KeptFiles<Card>,
  id: string,
  onNote: (sentence: string) => void,
): Promise<Kept<Card> | null> {
  const kept = await files.read(id)
  if (kept !== 'damaged') return kept
  onNote(`The file ${files.kind}/${id}/card.json cannot be read and is left out: put it back from a backup.`)
  return null
}

/** The cards of the index, with those read again that changed after it was written. */
async function reread<Card extends { readonly id: string }>(
  files: KeptFiles<Card>,
  indexed: readonly Kept<Card>[],
  touched: readonly { readonly kind: Kind; readonly id: string }[],
  onNote: (sentence: string) => void,
): Promise<readonly Kept<Card>[]> {
  const ids = new Set(touched.filter(({ kind }) => kind === files.kind).map(({ id }) => id))
  if (ids.size === 0) return indexed
  const all = new Map(indexed.map((kept) => [kept.card.id, kept]))
  for (const id of ids) {
    const kept = await files.read(id)
    if (kept === 'damaged') {
      onNote(`The file ${files.kind}/${id}/card.json cannot be read: it is shown as it was before its last change.`)
      continue
    }
    await files.tidy(id, kept)
    if (kept === null) all.delete(id)
    else all.set(id, kept)
  }
  return [...all.values()]
}

import type { AllFiles, AllKept } from './all-kept.ts'
import { join } from 'node:path'
import { writeWholeText } from '../files/whole-file.ts'
import { cardFault } from './card-shapes.ts'
import { Journal, journalsIn, readJournal, removeJournal } from './journal.ts'
import { Damaged, INDEX_FILE, type Kept, type KeptFiles, type Touched } from './kept-files.ts'
import { type Kind, KINDS } from './kinds.ts'
import type { SetAside } from './set-aside.ts'
import { openStoreFile, type StoreFile } from './store-file.ts'

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
    setAside: SetAside,
  ): Promise<{ readonly index: IndexFile; readonly kept: AllKept }> {
    const store = await openStoreFile(folder, 'index').catch(() => null)
    const found = store === null ? null : contentsOf(store, format)
    const journals = await journalsIn(folder)
    const isNewest = found !== null && journals.every((generation) => generation <= found.generation)
    if (!isNewest) {
      const generation = Math.max(0, found?.generation ?? 0, ...journals)
      const index = new IndexFile(folder, format, generation, new Journal(folder, generation, []), store)
      const kept = await readAll(files, setAside)
      await index.write(kept)
      for (const old of journals) await removeJournal(folder, old)
      return { index, kept }
    }
    const { generation } = found
    const touched = await readJournal(folder, generation)
    for (const old of journals) if (old < generation) await removeJournal(folder, old)
    const index = new IndexFile(folder, format, generation, new Journal(folder, generation, touched), store)
    const kept = {
      dogs: await reread(files.dogs, found.kept.dogs, touched, setAside),
      boards: await reread(files.boards, found.kept.boards, touched, setAside),
      clips: await reread(files.clips, found.kept.clips, touched, setAside),
      rides: await reread(files.rides, found.kept.rides, touched, setAside),
      noted: await reread(files.noted, found.kept.noted, touched, setAside),
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
  const generation = contents['generation'] as number
  const isSound = (kind: Kind) => {
    const cards = contents[kind]
    return Array.isArray(cards) && cards.every((kept: unknown) => cardFault(kind, kept) === null)
  }
  if (contents['format'] !== format || !Number.isSafeInteger(generation) || !KINDS.every(isSound)) return null
  const { dogs, boards, clips, rides, noted } = contents as unknown as AllKept
  return { generation, kept: { dogs, boards, clips, rides, noted } }
}

async function overwritten(folder: string): Promise<StoreFile> {
  await writeWholeText(join(folder, INDEX_FILE), '{}')
  return openStoreFile(folder, 'index')
}

async function readAll(files: AllFiles, setAside: SetAside): Promise<AllKept> {
  return {
    dogs: await readCards(files.dogs, setAside),
    boards: await readCards(files.boards, setAside),
    clips: await readCards(files.clips, setAside),
    rides: await readCards(files.rides, setAside),
    noted: await readCards(files.noted, setAside),
  }
}

/** All cards of one kind; what cannot be read is set aside. */
async function readCards<Card extends { readonly id: string }>(
  files: KeptFiles<Card>,
  setAside: SetAside,
): Promise<Kept<Card>[]> {
  const ids = await files.ids()
  const all: Kept<Card>[] = []
  for (let from = 0; from < ids.length; from += atATime) {
    const some = ids.slice(from, from + atATime)
    const read = await Promise.all(some.map(async (id) => ({ id, kept: await files.read(id) })))
    for (const { id, kept } of read) {
      if (kept instanceof Damaged) await setAside.put({ kind: files.kind, id })
      else if (kept !== null) all.push(kept)
    }
  }
  return all
}

/**
 * The cards of the index, with those read again that changed after it was written. One that cannot be read then is
 * shown as the index knows it.
 */
async function reread<Card extends { readonly id: string }>(
  files: KeptFiles<Card>,
  indexed: readonly Kept<Card>[],
  touched: readonly Touched[],
  setAside: SetAside,
): Promise<readonly Kept<Card>[]> {
  const ids = new Set(touched.filter(({ kind }) => kind === files.kind).map(({ id }) => id))
  if (ids.size === 0) return indexed
  const all = new Map(indexed.map((kept) => [kept.card.id, kept]))
  for (const id of ids) {
    const thing = { kind: files.kind, id }
    const kept = await files.read(id)
    const before = all.get(id)
    if (kept instanceof Damaged && before !== undefined) {
      await setAside.putCopyOfCard(thing)
      all.set(id, await files.write(before.card, before.addedAt, before, null))
    } else if (kept instanceof Damaged) await setAside.put(thing)
    else {
      await files.tidy(id, kept)
      if (kept === null) all.delete(id)
      else all.set(id, kept)
    }
  }
  return [...all.values()]
}

import { copyFile, mkdir, readdir, readFile, rename, rm, stat } from 'node:fs/promises'
import { join } from 'node:path'
import type { UnreadableThing } from '../contract/unreadable.ts'
import { flush } from '../files/whole-file.ts'
import type { AllFiles } from './all-kept.ts'
import { CARD, Damaged, INDEX_FILE, isId, KIND_WORDS, noEntries, type Place, type Touched } from './kept-files.ts'
import { KINDS } from './kinds.ts'

/** Where things lie whose cards cannot be read, as `set-aside/KIND/ID`. */
export const SET_ASIDE = 'set-aside'

/**
 * Things whose cards cannot be read. They are moved out of the way, whole and unchanged, so that everything else can be
 * shown; one whose card was mended comes back when the library is opened next.
 */
export class SetAside {
  readonly #place: Place

  constructor(place: Place) {
    this.#place = place
  }

  /** Brings back what was mended. Call before the index is read. */
  async bringBackMended(files: AllFiles): Promise<void> {
    for (const thing of await this.#things()) {
      const isTaken = await stat(this.#home(thing)).catch(() => null)
      if (isTaken !== null || (await files[thing.kind].readIn(this.#folder(thing), thing.id)) instanceof Damaged)
        continue
      // The index does not know of it, and is made anew.
      await rm(join(this.#place.folder, INDEX_FILE), { force: true })
      await flush(this.#place.folder, 'r')
      await mkdir(join(this.#home(thing), '..'), { recursive: true })
      await rename(this.#folder(thing), this.#home(thing))
      await flush(join(this.#home(thing), '..'), 'r')
    }
  }

  /** Moves a thing aside. */
  async put(thing: Touched): Promise<void> {
    const folder = await this.#roomFor(thing)
    await rename(this.#home(thing), folder)
    await flush(join(folder, '..'), 'r')
    await flush(join(this.#home(thing), '..'), 'r')
  }

  /** Keeps a copy of a card that is about to be replaced by an older one. */
  async putCopyOfCard(thing: Touched): Promise<void> {
    const folder = await this.#roomFor(thing)
    await mkdir(folder)
    await copyFile(join(this.#home(thing), CARD), join(folder, CARD))
    await flush(join(folder, CARD), 'r+')
  }

  /** All that lies there. */
  async list(files: AllFiles): Promise<UnreadableThing[]> {
    return Promise.all(
      (await this.#things()).map(async ({ kind, id }) => {
        const folder = this.#folder({ kind, id })
        const read = await files[kind].readIn(folder, id)
        const why = read instanceof Damaged ? read.why : 'an older state of it is shown'
        return { kind: KIND_WORDS[kind], id, name: await nameIn(join(folder, CARD)), why, folder }
      }),
    )
  }

  async #things(): Promise<Touched[]> {
    const things: Touched[] = []
    for (const kind of KINDS) {
      for (const id of await readdir(join(this.#place.folder, SET_ASIDE, kind)).catch(noEntries)) {
        if (isId(id)) things.push({ kind, id })
      }
    }
    return things
  }

  /** What lay there under the same id keeps its place under another name. */
  async #roomFor(thing: Touched): Promise<string> {
    const folder = this.#folder(thing)
    await mkdir(join(folder, '..'), { recursive: true })
    if ((await stat(folder).catch(() => null)) !== null) await rename(folder, `${folder}.${Date.now()}`)
    return folder
  }

  #home({ kind, id }: Touched): string {
    return join(this.#place.folder, kind, id)
  }

  #folder({ kind, id }: Touched): string {
    return join(this.#place.folder, SET_ASIDE, kind, id)
  }
}

/** What a card that is not sound calls its thing, if it still says so. */
async function nameIn(path: string): Promise<string | null> {
  try {
    const { card } = JSON.parse(await readFile(path, 'utf8')) as { readonly card?: Record<string, unknown> }
    const facts = card?.['facts'] as Record<string, unknown> | undefined
    const said = [card?.['name'], card?.['title'], facts?.['fileName'], card?.['fileName']]
    return said.find((one): one is string => typeof one === 'string' && one !== '') ?? null
  } catch {
    return null
  }
}

import { mkdir, readdir, readFile, rename, rm, stat } from 'node:fs/promises'
import { join } from 'node:path'
import { z } from 'zod'
import { jsonText } from '../files/json-file.ts'
import { flush, writeWholeText } from '../files/whole-file.ts'
import {
  CARD,
  CLIP_FILES,
  INDEX_FILE,
  isId,
  isMissing,
  type Kept,
  noEntries,
  PACKS,
  type Place,
  type Touched,
} from './kept-files.ts'
import { KINDS } from './kinds.ts'

/** What can be removed: things of the library, and packs that others sent. Each lies in `KIND/ID`. */
const REMOVABLE = [...KINDS, PACKS] as const

/** Names one thing that can be removed. */
export interface Removable {
  readonly kind: (typeof REMOVABLE)[number]
  readonly id: string
}

/** Whether it is a thing with a card, which the index knows; a pack is none. */
export function isThing(one: Removable): one is Touched {
  return one.kind !== PACKS
}

/** What was removed lies here until its time is over, each removal in a folder of its own. */
export const BIN = 'bin'
/** In it: what it is. */
const RECORD = 'removed.json'
/** The end of the name of a folder that is being deleted for good. */
const GONE = '.gone'

const id = z.string().refine(isId)
const removable = z.object({ kind: z.enum(REMOVABLE), id })
const binRecord = z.object({
  id,
  kind: z.enum(REMOVABLE),
  thingId: id,
  name: z.string(),
  /** ms since 1970. */
  removedAtMs: z.number(),
  /** All that went, in the order in which it goes: the thing that was removed comes last. */
  things: z.array(removable).min(1),
  /** Files of the library's own that go for good with it, below the library's folder. */
  copies: z.array(z.string().refine(isCopy)),
})

/** Whether a path below the library's folder is one of its own copies of clips. */
export function isCopy(path: string): boolean {
  const [first, ...rest] = path.split('/')
  return first === CLIP_FILES && rest.length > 0 && rest.every((name) => !['', '.', '..'].includes(name))
}

/** One removal. */
export type BinRecord = z.infer<typeof binRecord>

/**
 * The bin on the disk. A removed thing's folder is moved as it is to `bin/ID/KIND/THING`, in one step; with a clip go
 * its rides, and the clip is the last to go and the first to come back. So a program that was killed meanwhile leaves
 * either a whole removal, or one whose last thing is not in the bin: that is none, and is undone.
 */
export class BinFolder {
  readonly #place: Place

  constructor(place: Place) {
    this.#place = place
  }

  /** Undoes what was left half done, and gives all removals. A record that cannot be read is told and left alone. */
  async open(onNote: (sentence: string) => void): Promise<BinRecord[]> {
    const records: BinRecord[] = []
    for (const name of await readdir(this.#bin()).catch(noEntries)) {
      if (name.endsWith(GONE)) await rm(join(this.#bin(), name), { recursive: true, force: true })
      else if (isId(name)) {
        const record = await this.#recordIn(name)
        if (record === null) await this.#leaveAlone(name, onNote)
        else if (await this.#isWhole(record)) records.push(record)
        else await this.#undo(record, onNote)
      }
    }
    return records
  }

  /** Moves all things of a removal into the bin; if that fails, all are where they were. */
  async take(record: BinRecord): Promise<void> {
    await mkdir(join(this.#bin(), record.id), { recursive: true })
    await flush(this.#place.folder, 'r')
    await flush(this.#bin(), 'r')
    try {
      await writeWholeText(join(this.#bin(), record.id, RECORD), jsonText(record))
      for (const thing of record.things) await this.#move(this.#home(thing), this.folderIn(record, thing))
    } catch (error) {
      // What cannot be undone now is undone when the library is opened next.
      await this.giveBack(record).catch(() => undefined)
      throw error
    }
  }

  /** Moves all things of a removal back. Done again after a kill, it goes on. */
  async giveBack(record: BinRecord): Promise<void> {
    for (const thing of record.things.toReversed()) {
      await this.#move(this.folderIn(record, thing), this.#home(thing)).catch(ignoreMissing)
    }
    await this.delete(record)
  }

  /** Deletes a removal for good. */
  async delete({ id }: BinRecord): Promise<void> {
    const gone = join(this.#bin(), id + GONE)
    await rename(join(this.#bin(), id), gone)
    await flush(this.#bin(), 'r')
    // What is left of it goes when the library is opened next.
    await rm(gone, { recursive: true, force: true }).catch(() => undefined)
  }

  /** Brings the cards of a removal up to the format of this program, before they come back. */
  async upgrade(record: BinRecord, upgraded: (thing: Touched, kept: Kept<unknown>) => Kept<unknown>): Promise<void> {
    for (const thing of record.things.filter(isThing)) {
      const path = join(this.folderIn(record, thing), CARD)
      const kept = JSON.parse(await readFile(path, 'utf8')) as Kept<unknown>
      const now = upgraded(thing, kept)
      if (now !== kept) await writeWholeText(path, jsonText(now))
    }
  }

  /** The index may not know what comes back, so that it is made anew. */
  async #undo(record: BinRecord, onNote: (sentence: string) => void): Promise<void> {
    try {
      await rm(join(this.#place.folder, INDEX_FILE), { force: true })
      await flush(this.#place.folder, 'r')
      await this.giveBack(record)
    } catch (error) {
      const why = error instanceof Error ? error.message : String(error)
      onNote(`${record.name} was being removed, and is not wholly back: part of it lies in bin/${record.id} (${why}).`)
    }
  }

  async #leaveAlone(name: string, onNote: (sentence: string) => void): Promise<void> {
    const held = await readdir(join(this.#bin(), name))
    if (REMOVABLE.some((kind) => held.includes(kind)))
      onNote(`What was removed as bin/${name} cannot be put back: its record cannot be read.`)
    else await rm(join(this.#bin(), name), { recursive: true, force: true })
  }

  /** Where a thing of a removal lies. */
  folderIn(record: BinRecord, { kind, id }: Removable): string {
    return join(this.#bin(), record.id, kind, id)
  }

  async #recordIn(name: string): Promise<BinRecord | null> {
    try {
      const record = binRecord.parse(JSON.parse(await readFile(join(this.#bin(), name, RECORD), 'utf8')))
      return record.id === name ? record : null
    } catch {
      return null
    }
  }

  async #isWhole(record: BinRecord): Promise<boolean> {
    const last = record.things[record.things.length - 1]!
    // Folders are moved in one step.
    return (await stat(this.folderIn(record, last)).catch(() => null)) !== null
  }

  async #move(from: string, to: string): Promise<void> {
    await stat(from)
    await mkdir(join(to, '..'), { recursive: true })
    await rename(from, to)
    await flush(join(to, '..'), 'r')
    await flush(join(from, '..'), 'r')
  }

  #home({ kind, id }: Removable): string {
    return join(this.#place.folder, kind, id)
  }

  #bin(): string {
    return join(this.#place.folder, BIN)
  }
}

function ignoreMissing(error: unknown): void {
  if (!isMissing(error)) throw error
}

import { randomUUID } from 'node:crypto'
import { rm, rmdir } from 'node:fs/promises'
import { dirname, join } from 'node:path'
import type { Removed } from '../contract/bin.ts'
import { type BinFolder, type BinRecord, isCopy, isThing, type Removable } from './bin-folder.ts'
import type { CardShelf, Shelving } from './card-shelf.ts'
import type { CardOf } from './all-kept.ts'
import { Damaged, type Kept, KIND_WORDS, PACKS, type Touched } from './kept-files.ts'
import { type Kind } from './kinds.ts'
import { LibraryProblem } from './library-problem.ts'

/** How long something removed can be put back, ms. */
const KEPT_MS = 30 * 24 * 3600 * 1000

export type AllShelves = { readonly [K in Kind]: CardShelf<CardOf[K]> }

export interface BinParts {
  readonly folder: BinFolder
  readonly records: readonly BinRecord[]
  readonly shelving: Shelving
  readonly shelves: AllShelves
  /** What a thing is called in lists. */
  readonly nameOf: (thing: Touched) => string
  /** Brings a card up to the format of this program; gives the same object if it is. */
  readonly upgraded: (thing: Touched, kept: Kept<unknown>) => Kept<unknown>
  readonly now: () => number
}

/** What was removed from a library, and how it comes back. */
export class Bin {
  readonly #parts: BinParts
  #records: readonly BinRecord[]

  constructor(parts: BinParts) {
    this.#parts = parts
    this.#records = parts.records.toSorted((a, b) => b.removedAtMs - a.removedAtMs)
  }

  /** The latest first. */
  list(): readonly Removed[] {
    return this.#records.map(removedOf)
  }

  /** Files of the library's own that something removed needs when it comes back, below the library's folder. */
  copies(): readonly string[] {
    return this.#records.flatMap(({ copies }) => copies)
  }

  /** Removes one thing, a clip with its rides, a dog with those that were not filmed; null where there is none. */
  remove(thing: Touched): Promise<Removed | null> {
    const { shelving, shelves, nameOf } = this.#parts
    return shelving.run(async () => {
      if (!shelves[thing.kind].has(thing.id)) return null
      const things = [...this.#ridesOf(thing), thing]
      for (const one of things) await shelving.noteChange(one)
      const removed = await this.#take(thing, nameOf(thing), things, this.#copiesOf(thing))
      for (const { kind, id } of things) shelves[kind].drop(id)
      this.#told(things)
      return removed
    })
  }

  /** Removes a pack that somebody sent, whose folder is there. */
  removePack(id: string, name: string): Promise<Removed> {
    return this.#parts.shelving.run(async () => {
      const pack = { kind: PACKS, id } as const
      const removed = await this.#take(pack, name, [pack], [])
      this.#told([pack])
      return removed
    })
  }

  /** Puts back what was removed, under its own id. */
  putBack(removedId: string): Promise<Removed> {
    const { shelving, shelves, folder, upgraded } = this.#parts
    return shelving.run(async () => {
      const record = this.#records.find(({ id }) => id === removedId)
      if (record === undefined) {
        throw new LibraryProblem('not-found', 'This is no longer in the bin: it was put back or deleted already.')
      }
      const things = record.things.filter(isThing)
      for (const one of things) await shelving.noteChange(one)
      await folder.upgrade(record, upgraded)
      await this.#makeSureOfCards(record)
      await folder.giveBack(record)
      this.#records = this.#records.filter((one) => one !== record)
      for (const { kind, id } of things) await shelves[kind].readAgain(id)
      this.#told(record.things)
      return removedOf(record)
    })
  }

  /** Deletes everything in it for good. */
  empty(): Promise<void> {
    return this.#parts.shelving.run(() => this.#delete(this.#records))
  }

  /** Deletes what has been in it for 30 days. */
  deleteOld(): Promise<void> {
    const oldMs = this.#parts.now() - KEPT_MS
    return this.#parts.shelving.run(() => this.#delete(this.#records.filter(({ removedAtMs }) => removedAtMs < oldMs)))
  }

  async #take(
    removed: Removable,
    name: string,
    things: readonly Removable[],
    copies: readonly string[],
  ): Promise<Removed> {
    const record: BinRecord = {
      id: randomUUID(),
      kind: removed.kind,
      thingId: removed.id,
      name,
      removedAtMs: this.#parts.now(),
      things: [...things],
      copies: [...copies],
    }
    await this.#parts.folder.take(record)
    this.#records = [record, ...this.#records]
    return removedOf(record)
  }

  async #makeSureOfCards(record: BinRecord): Promise<void> {
    for (const thing of record.things.filter(isThing)) {
      const place = this.#parts.folder.folderIn(record, thing)
      const kept = await this.#parts.shelves[thing.kind].files.readIn(place, thing.id)
      if (!(kept instanceof Damaged)) continue
      throw new LibraryProblem('failed', `${record.name} cannot be put back: ${place} is damaged (${kept.why}).`)
    }
  }

  async #delete(records: readonly BinRecord[]): Promise<void> {
    for (const record of records) {
      await this.#parts.folder.delete(record)
      this.#records = this.#records.filter((one) => one !== record)
      for (const copy of record.copies) await this.#deleteCopy(copy)
    }
    if (records.length > 0) this.#parts.shelving.tellChange('bin')
  }

  async #deleteCopy(copy: string): Promise<void> {
    const isNeeded =
      this.copies().includes(copy) || this.#parts.shelves.clips.kept().some((one) => one.card.path === copy)
    if (isNeeded) return
    const path = join(this.#parts.shelving.folder, copy)
    await rm(path, { force: true })
    // Each copy has a folder of its own; one that holds more than the copy stays.
    if (dirname(dirname(copy)) !== '.') await rmdir(dirname(path)).catch(() => undefined)
  }

  #ridesOf({ kind, id }: Touched): Touched[] {
    const { rides, noted } = this.#parts.shelves
    const ofClip = kind === 'clips' ? rides.kept().filter(({ card }) => card.clipId === id) : []
    // A filmed ride is found by its clip; one without a film only by its dog.
    const ofDog = kind === 'dogs' ? noted.kept().filter(({ card }) => card.dogId === id) : []
    return [
      ...ofClip.map(({ card }) => ({ kind: 'rides', id: card.id }) as const),
      ...ofDog.map(({ card }) => ({ kind: 'noted', id: card.id }) as const),
    ]
  }

  #copiesOf({ kind, id }: Touched): string[] {
    const path = kind === 'clips' ? this.#parts.shelves.clips.get(id)?.path : undefined
    return path !== undefined && isCopy(path) ? [path] : []
  }

  #told(things: readonly Removable[]): void {
    for (const kind of new Set(things.map(({ kind }) => kind))) this.#parts.shelving.tellChange(kind)
    this.#parts.shelving.tellChange('bin')
  }
}

function removedOf({ id, kind, thingId, name, things, removedAtMs }: BinRecord): Removed {
  return {
    removedId: id,
    kind: KIND_WORDS[kind],
    id: thingId,
    name,
    rides: things.length - 1,
    removedAt: new Date(removedAtMs).toISOString(),
    keptUntil: new Date(removedAtMs + KEPT_MS).toISOString(),
  }
}

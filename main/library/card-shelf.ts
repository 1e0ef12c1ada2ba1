import type { Removed } from '../contract/bin.ts'
import { Damaged, isId, type Kept, type KeptFiles, type Touched } from './kept-files.ts'
import { type Kind } from './kinds.ts'
import type { Shelf } from './library.ts'

/** What the shelves of a library have in common. */
export interface Shelving {
  readonly folder: string
  /** Does something after all that was asked for before; what goes wrong is a `LibraryProblem`. */
  run<T>(work: () => Promise<T>): Promise<T>
  /** Before a thing's files change. */
  noteChange(touched: Touched): Promise<void>
  /** After it has changed. */
  tellChange(what: Kind | 'packs' | 'bin'): void
  /** Moves a thing into the bin, with all that goes with it; null where there is none. */
  remove(touched: Touched): Promise<Removed | null>
  /** ms since 1970, never the same twice. */
  nextAddedAt(): number
}

/** What a change makes of a card; a `part` where that changes as well. */
export interface CardChange<Card> {
  readonly card: Card
  readonly part: object | null
}

/** Things of one kind: all cards in memory, each in a file of its own. */
export class CardShelf<Card extends { readonly id: string }> implements Shelf<Card> {
  readonly files: KeptFiles<Card>
  readonly #shelving: Shelving
  readonly #kept: Map<string, Kept<Card>>
  #list: readonly Card[] | null = null

  constructor(files: KeptFiles<Card>, shelving: Shelving, kept: readonly Kept<Card>[]) {
    this.files = files
    this.#shelving = shelving
    this.#kept = new Map(kept.map((one) => [one.card.id, one]))
  }

  list(): readonly Card[] {
    this.#list ??= this.kept()
      .sort((a, b) => b.addedAt - a.addedAt)
      .map(({ card }) => card)
    return this.#list
  }

  get(id: string): Card | null {
    return this.#kept.get(id)?.card ?? null
  }

  has(id: string): boolean {
    return this.#kept.has(id)
  }

  kept(): Kept<Card>[] {
    return [...this.#kept.values()]
  }

  keptOf(id: string): Kept<Card> | null {
    return this.#kept.get(id) ?? null
  }

  put(card: Card): Promise<void> {
    return this.change(card.id, () => Promise.resolve({ card, part: null }))
  }

  async update(id: string, to: (now: Card) => Card): Promise<Card | null> {
    if (!isId(id)) return null
    let updated: Card | null = null
    await this.change(id, (before) => {
      if (before === null) return Promise.resolve(null)
      updated = { ...to(before.card), id }
      return Promise.resolve({ card: updated, part: null })
    })
    return updated
  }

  /**
   * Changes one thing after all changes before: `make` gets it as it is then, and gives what it becomes, or null to
   * leave it. If that fails, what is in memory is what is on the disk.
   */
  change(id: string, make: (before: Kept<Card> | null) => Promise<CardChange<Card> | null>): Promise<void> {
    if (!isId(id)) return Promise.reject(new Error(`${JSON.stringify(id)} cannot be the id of a kept thing`))
    return this.#shelving.run(async () => {
      const before = this.keptOf(id)
      const change = await make(before)
      if (change === null) return
      await this.#shelving.noteChange({ kind: this.files.kind, id })
      const addedAt = before?.addedAt ?? this.#shelving.nextAddedAt()
      try {
        this.#kept.set(id, await this.files.write(change.card, addedAt, before, change.part))
      } catch (error) {
        await this.readAgain(id).catch(() => undefined)
        throw error
      } finally {
        this.#told()
      }
    })
  }

  remove(id: string): Promise<Removed | null> {
    return this.#shelving.remove({ kind: this.files.kind, id })
  }

  /** What the files of a thing say, in the place of what was known of it; damaged ones change nothing. */
  async readAgain(id: string): Promise<void> {
    const kept = await this.files.read(id)
    if (kept instanceof Damaged) return
    await this.files.tidy(id, kept)
    if (kept === null) this.#kept.delete(id)
    else this.#kept.set(id, kept)
    this.#list = null
  }

  /** Forgets a thing whose files went into the bin. */
  drop(id: string): void {
    this.#kept.delete(id)
    this.#list = null
  }

  #told(): void {
    this.#list = null
    this.#shelving.tellChange(this.files.kind)
  }
}

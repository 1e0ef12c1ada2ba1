import type { ChangeQueue } from './change-queue.ts'
import type { Touched } from './journal.ts'
import { isId, type Kept, type KeptFiles, type Kind } from './kept-files.ts'
import type { Shelf } from './library.ts'
import { libraryProblem } from './library-problem.ts'

/** What the shelves of a library have in common. */
export interface Shelving {
  readonly queue: ChangeQueue
  readonly folder: string
  /** Before a thing's files change. */
  noteChange(touched: Touched): Promise<void>
  /** After it has changed. */
  tellChange(kind: Kind): void
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

  /** Changes one thing after all changes before: `make` gets it as it is then. */
  change(id: string, make: (before: Kept<Card> | null) => Promise<CardChange<Card>>): Promise<void> {
    if (!isId(id)) return Promise.reject(new Error(`${JSON.stringify(id)} cannot be the id of a kept thing`))
    return this.#run(async () => {
      const before = this.keptOf(id)
      const change = await make(before)
      await this.#shelving.noteChange({ kind: this.files.kind, id })
      const addedAt = before?.addedAt ?? this.#shelving.nextAddedAt()
      this.#kept.set(id, await this.files.write(change.card, addedAt, before, change.part))
      this.#told()
    })
  }

  remove(id: string): Promise<void> {
    return this.#run(async () => {
      if (!this.#kept.has(id)) return
      await this.#shelving.noteChange({ kind: this.files.kind, id })
      await this.files.remove(id)
      this.#kept.delete(id)
      this.#told()
    })
  }

  async #run(work: () => Promise<void>): Promise<void> {
    try {
      await this.#shelving.queue.run(work)
    } catch (error) {
      throw libraryProblem(error, this.#shelving.folder)
    }
  }

  #told(): void {
    this.#list = null
    this.#shelving.tellChange(this.files.kind)
  }
}

import { isAbsolute, join, relative, sep } from 'node:path'
import type { Removed } from '../contract/bin.ts'
import type { CardChange, CardShelf } from './card-shelf.ts'
import { isId, type Kept, type Place } from './kept-files.ts'
import type { KeptClip, Shelf } from './library.ts'
import { LibraryProblem } from './library-problem.ts'

/** A clip without its frame times, which lie in its part; a path into the library is kept relative to it. */
export type ClipOnDisk = Omit<KeptClip, 'frameTimesS'>

/** Clips: their frame times are read from the disk when they are first asked for. */
export class ClipShelf implements Shelf<KeptClip> {
  readonly #cards: CardShelf<ClipOnDisk>
  readonly #place: Place
  /** By card, so that a changed card makes a new clip. */
  #clips = new WeakMap<ClipOnDisk, KeptClip>()
  readonly #frameTimes = new Map<string, { readonly part: string; readonly timesS: readonly number[] }>()

  constructor(cards: CardShelf<ClipOnDisk>, place: Place) {
    this.#cards = cards
    this.#place = place
  }

  list(): readonly KeptClip[] {
    return this.#cards.list().map((card) => this.#clipOf(card))
  }

  get(id: string): KeptClip | null {
    const card = this.#cards.get(id)
    return card === null ? null : this.#clipOf(card)
  }

  async put(clip: KeptClip): Promise<void> {
    await this.#cards.change(clip.id, (before) => Promise.resolve(this.#onDisk(clip, before)))
  }

  async update(id: string, to: (now: KeptClip) => KeptClip): Promise<KeptClip | null> {
    if (!isId(id)) return null
    await this.#cards.change(id, (before) =>
      Promise.resolve(before === null ? null : this.#onDisk(to(this.#clipOf(before.card)), before)),
    )
    return this.get(id)
  }

  remove(id: string): Promise<Removed | null> {
    return this.#cards.remove(id)
  }

  /** After the library was moved: paths into it are others now. */
  forget(): void {
    this.#clips = new WeakMap()
  }

  #clipOf(card: ClipOnDisk): KeptClip {
    const known = this.#clips.get(card)
    if (known !== undefined) return known
    const timesS = (): readonly number[] => this.#timesOf(this.#cards.keptOf(card.id))
    const clip: KeptClip = {
      ...card,
      path: isAbsolute(card.path) ? card.path : join(this.#place.folder, card.path),
      get frameTimesS() {
        return timesS()
      },
    }
    this.#clips.set(card, clip)
    return clip
  }

  /** Frame times are written only where they are others. */
  #onDisk(clip: KeptClip, before: Kept<ClipOnDisk> | null): CardChange<ClipOnDisk> {
    const { frameTimesS, ...card } = clip
    return {
      card: { ...card, path: pathOnDisk(clip.path, this.#place.folder) },
      part: before !== null && this.#timesOf(before) === frameTimesS ? null : { frameTimesS },
    }
  }

  #timesOf(kept: Kept<ClipOnDisk> | null): readonly number[] {
    if (kept?.part == null) throw new LibraryProblem('not-found', 'This clip is no longer in the library.')
    const { id } = kept.card
    const known = this.#frameTimes.get(id)
    if (known?.part === kept.part) return known.timesS
    try {
      const { frameTimesS } = this.#cards.files.readPartNow(id, kept.part) as Pick<KeptClip, 'frameTimesS'>
      this.#frameTimes.set(id, { part: kept.part, timesS: frameTimesS })
      return frameTimesS
    } catch {
      const advice = 'remove the clip and take its file in again'
      throw new LibraryProblem('failed', `The frame times of ${kept.card.facts.fileName} cannot be read: ${advice}.`)
    }
  }
}

function pathOnDisk(path: string, folder: string): string {
  const inside = relative(folder, path)
  if (inside === '' || inside.startsWith('..') || isAbsolute(inside)) return path
  return inside.split(sep).join('/')
}

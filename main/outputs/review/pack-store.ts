import { randomUUID } from 'node:crypto'
import { mkdir, readdir, readFile, rename, rm } from 'node:fs/promises'
import { join } from 'node:path'
import { z } from 'zod'
import { plainLine } from '../../../analysis/review/author-names.ts'
import { readReview } from '../../../analysis/review/read-review.ts'
import type { ReviewItem } from '../../../analysis/review/review-item.ts'
import type { PackCard, PackDetail } from '../../contract/review.ts'
import { jsonText } from '../../files/json-file.ts'
import { writeWholeText } from '../../files/whole-file.ts'
import { PACK_FILES, type PackInfo, PackProblem } from './pack-files.ts'
import { packShape, pictureIn, rideIn } from './pack-shapes.ts'
import { type ReadPack, readPack } from './read-pack.ts'
import { itemsIn, itemsOnDisk, mergedItems } from './review-file.ts'

/** Where a pack lies once it was opened: beside its parts, what was said of it here. */
const KEPT = 'kept.json'
const UNFINISHED = '.part'
const PACK_ID = /^pack-[0-9a-f-]{36}$/

const keptShape = z.looseObject({ openedAt: z.string(), student: z.string(), items: z.array(z.unknown()) })

interface Kept {
  readonly openedAt: string
  readonly student: string
  readonly items: readonly ReviewItem[]
}

/** Packs that others sent, each in a folder of its own, apart from the library's own dogs and rides. */
export class PackStore {
  readonly #folder: () => string
  #turn: Promise<unknown> = Promise.resolve()

  /** @param folder asked each time, since the library may move */
  constructor(folder: () => string) {
    this.#folder = folder
  }

  /** The latest first; what cannot be read is left out. */
  async cards(): Promise<readonly PackCard[]> {
    const names = (await readdir(this.#folder()).catch(() => [])).filter((name) => PACK_ID.test(name))
    const cards = await Promise.all(names.map((id) => this.#card(id).catch(() => null)))
    return cards.filter((card) => card !== null).sort((a, b) => (a.openedAt < b.openedAt ? 1 : -1))
  }

  /** Takes a pack in. The same one with the same film, opened again, is merged with what was said of it here. */
  async open(path: string, checkFilm: (clipPath: string, frames: number) => Promise<void>): Promise<string> {
    await mkdir(this.#folder(), { recursive: true })
    const id = `pack-${randomUUID()}`
    const part = this.#place(`${id}${UNFINISHED}`)
    await mkdir(part)
    try {
      const clipPath = join(part, PACK_FILES.clip)
      const read = await readPack(path, clipPath)
      await checkFilm(clipPath, read.picture.frameIndex.length)
      const known = await this.#sameAs(read.info)
      if (known !== null) {
        await this.merge(known, read.items)
        return known
      }
      await this.#write(part, read)
      await rename(part, this.#place(id))
      return id
    } finally {
      await rm(part, { recursive: true, force: true })
    }
  }

  async detail(id: string): Promise<PackDetail> {
    const [info, kept] = await this.#read(id)
    const { firstElement, lastElement, widthPx, heightPx } = info.film
    const ride = rideIn(await this.#json(id, PACK_FILES.ride))
    const picture = pictureIn(await this.#json(id, PACK_FILES.picture), lastElement - firstElement + 1)
    if (ride === null || picture === null)
      throw new PackProblem('This pack can no longer be read: open its file again.')
    const ptsS = ride.frames.ptsS.slice(firstElement, lastElement + 1)
    return {
      card: cardOf(id, info, kept),
      packId: info.packId,
      rideId: info.rideId,
      handlerId: info.handler.id,
      ride,
      film: { ptsS, picture, widthPx, heightPx },
      items: kept.items,
    }
  }

  /** Where a pack's film lies; null where there is none. */
  clipPath(id: string): string | null {
    return PACK_ID.test(id) ? join(this.#place(id), PACK_FILES.clip) : null
  }

  /** The pack that a reply of this pack's id belongs to. */
  async withPackId(packId: string): Promise<string | null> {
    for (const { id } of await this.cards()) if ((await this.#read(id))[0].packId === packId) return id
    return null
  }

  async merge(id: string, items: readonly ReviewItem[]): Promise<void> {
    await this.#change(id, (kept) => ({ ...kept, items: mergedItems(kept.items, items) }))
  }

  async file(id: string, student: string): Promise<PackCard> {
    await this.#change(id, (kept) => ({ ...kept, student }))
    return this.#card(id)
  }

  /**
   * Makes one of copies of the same pack: one that was opened anew while another lay in the bin has a twin when that
   * comes back. What was said of both is merged; a folder that somebody chose for either holds. Copies that have too
   * much in them for one stay apart.
   */
  async joinTwins(): Promise<void> {
    await this.#inTurn(async () => {
      const oldestFirst = (await this.cards()).toReversed()
      const ones: { readonly id: string; readonly info: PackInfo }[] = []
      for (const { id } of oldestFirst) {
        const [info, kept] = await this.#read(id)
        const twin = ones.find((one) => isSame(one.info, info))
        if (twin === undefined || !(await this.#takeIn(twin.id, info, kept))) ones.push({ id, info })
        else await this.#delete(id)
      }
    })
  }

  /** Whether what was said of a twin, and its folder, went into this one. */
  async #takeIn(id: string, info: PackInfo, twin: Kept): Promise<boolean> {
    const [, kept] = await this.#read(id)
    try {
      const items = mergedItems(kept.items, twin.items)
      await this.#keep(id, {
        ...kept,
        items,
        student: kept.student === firstFolder(info) ? twin.student : kept.student,
      })
      return true
    } catch (error) {
      if (error instanceof PackProblem) return false
      throw error
    }
  }

  /** In one step, so that no half of it is shown. */
  async #delete(id: string): Promise<void> {
    const gone = this.#place(`${id}${UNFINISHED}`)
    await rename(this.#place(id), gone)
    await rm(gone, { recursive: true, force: true })
  }

  /** Lets `take` move a pack away, after all that is being said of it. */
  async remove<T>(id: string, take: (card: PackCard) => Promise<T>): Promise<T> {
    return this.#inTurn(async () => take(await this.#card(id)))
  }

  async #write(part: string, { info, ride, picture, items }: ReadPack): Promise<void> {
    const write = (name: string, value: unknown) => writeWholeText(join(part, name), jsonText(value))
    await write(PACK_FILES.pack, info)
    await write(PACK_FILES.ride, ride)
    await write(PACK_FILES.picture, picture)
    await write(KEPT, { openedAt: new Date().toISOString(), student: firstFolder(info), items: itemsOnDisk(items) })
  }

  async #sameAs(info: PackInfo): Promise<string | null> {
    const id = await this.withPackId(info.packId)
    if (id === null) return null
    const [known] = await this.#read(id)
    return isSame(known, info) ? id : null
  }

  async #card(id: string): Promise<PackCard> {
    const [info, kept] = await this.#read(id)
    return cardOf(id, info, kept)
  }

  async #read(id: string): Promise<readonly [PackInfo, Kept]> {
    const info = packShape.safeParse(await this.#json(id, PACK_FILES.pack))
    const kept = keptShape.safeParse(await this.#json(id, KEPT))
    if (!info.success || !kept.success) throw new PackProblem('This pack can no longer be read: open its file again.')
    return [info.data, { ...kept.data, items: itemsIn(kept.data.items, 'this pack') }]
  }

  async #json(id: string, name: string): Promise<unknown> {
    if (!PACK_ID.test(id)) throw new PackProblem(GONE)
    const text = await readFile(join(this.#place(id), name), 'utf8').catch(() => null)
    if (text === null) throw new PackProblem(GONE)
    try {
      return JSON.parse(text)
    } catch {
      throw new PackProblem('This pack can no longer be read: open its file again.')
    }
  }

  /** One change after the other, each of what is there by then. */
  async #change(id: string, to: (kept: Kept) => Kept): Promise<void> {
    await this.#inTurn(async () => this.#keep(id, to((await this.#read(id))[1])))
  }

  async #keep(id: string, { items, ...kept }: Kept): Promise<void> {
    await writeWholeText(join(this.#place(id), KEPT), jsonText({ ...kept, items: itemsOnDisk(items) }))
  }

  #inTurn<T>(work: () => Promise<T>): Promise<T> {
    const turn = this.#turn.then(work)
    this.#turn = turn.catch(() => undefined)
    return turn
  }

  #place(name: string): string {
    return join(this.#folder(), name)
  }
}

/** Whose pack bears no name. */
const UNNAMED = 'Somebody'
const GONE = 'This pack is no longer in the library: go back to the list.'

/** The same pack of the same handler, with the same film and the same frames. */
function isSame(one: PackInfo, other: PackInfo): boolean {
  const isSameFilm = [PACK_FILES.clip, PACK_FILES.picture].every((name) => one.files[name] === other.files[name])
  return isSameFilm && one.packId === other.packId && one.handler.id === other.handler.id
}

/** Where a pack lies until somebody moves it. */
function firstFolder({ handler }: PackInfo): string {
  return plainLine(handler.name) || UNNAMED
}

function cardOf(id: string, info: PackInfo, { openedAt, student, items }: Kept): PackCard {
  const { comments, questions, suggestions } = readReview(items)
  return {
    id,
    openedAt,
    madeAt: info.madeAt,
    student,
    handlerName: plainLine(info.handler.name) || UNNAMED,
    dogName: plainLine(info.dogName),
    title: plainLine(info.title),
    questions: questions.length,
    comments: comments.length + suggestions.length,
  }
}

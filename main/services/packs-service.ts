import { open, readFile, stat } from 'node:fs/promises'
import { join } from 'node:path'
import { newIn } from '../../analysis/review/merge-reviews.ts'
import { packName } from '../../analysis/review/pack-name.ts'
import type { Handlers, Happening } from '../contract/calls.ts'
import { type Outcome, problem, success } from '../contract/outcome.ts'
import type { OpenedReview } from '../contract/review.ts'
import { PACKS } from '../library/kept-files.ts'
import type { Library } from '../library/library.ts'
import { answered } from '../library/library-problem.ts'
import type { ProbedClip } from '../film/media/probed-clip.ts'
import { PackStore } from '../outputs/review/pack-store.ts'
import { OwnAuthor } from '../outputs/review/own-author.ts'
import { PACK_LIMITS, PackProblem } from '../outputs/review/pack-files.ts'
import { isZip } from '../outputs/review/read-pack.ts'
import { mergedItems, replyIn, takenOver } from '../outputs/review/review-file.ts'
import type { ClipFiles } from './clips-files.ts'
import type { HandedFiles } from './handed-files.ts'

type PacksHandlers = Pick<
  Handlers,
  | 'reviews.self'
  | 'reviews.setName'
  | 'reviews.open'
  | 'packs.list'
  | 'packs.get'
  | 'packs.review'
  | 'packs.file'
  | 'packs.remove'
>

export interface PacksService {
  readonly handlers: PacksHandlers
  readonly store: PackStore
  readonly self: OwnAuthor
  /** A pack was put back from the bin: should it have been opened anew meanwhile, the two become one. */
  cameBack(): Promise<void>
  /** The film of a pack, for pictures; null for an id that is no pack's. */
  film(id: string, signal: AbortSignal): Promise<Outcome<ProbedClip>> | null
}

export interface PacksParts {
  readonly library: Library
  readonly handed: Pick<HandedFiles, 'pathOf' | 'letGo'>
  readonly files: Pick<ClipFiles, 'read'>
  readonly tell: (happening: Happening) => void
}

/** Packs that others sent, and replies to ours. What is in them is looked at with distrust. */
export function packsService({ library, handed, files, tell }: PacksParts): PacksService {
  const folder = () => join(library.folder, PACKS)
  const store = new PackStore(folder)
  const self = new OwnAuthor(folder)
  const changed = (): void => tell({ kind: 'changed', what: 'packs' })

  /** A pack's film is read as any clip is: one local file, one known format, counted frames. */
  async function checkFilm(clipPath: string, frames: number): Promise<void> {
    const probed = await files.read(clipPath)
    if (!probed.ok) throw new PackProblem(`The film in this pack cannot be read here. ${probed.error.message}`)
    const there = probed.value.video.fileTimesS.length
    if (there !== frames) {
      throw new PackProblem(
        `The film in this pack has ${there} pictures, and ${frames} were measured: ask for the pack once more.`,
      )
    }
  }

  async function openReply(path: string): Promise<OpenedReview> {
    const { size } = await stat(path)
    if (size > PACK_LIMITS.commentsBytes) throw new PackProblem('This file is too large for a reply: choose another.')
    const reply = replyIn(await readFile(path, 'utf8'))
    const ride = await library.rides.get(reply.rideId)
    if (ride !== null) {
      const items = newIn(ride.review, takenOver(reply.items, (await self.get()).authorId))
      mergedItems(ride.review, items)
      if (items.length > 0) await library.rides.review(ride.id, items)
      return { kind: 'reply', rideId: ride.id, added: items.filter(({ isRemoved }) => !isRemoved).length }
    }
    const packId = await store.withPackId(reply.packId)
    if (packId === null) {
      throw new PackProblem('This reply is for a ride that is not in this library: open it where the ride is.')
    }
    await store.merge(packId, reply.items)
    return { kind: 'pack', packId }
  }

  const handlers: PacksHandlers = {
    'reviews.self': () => answered(() => self.get()),
    'reviews.setName': ({ name }) => answered(() => self.setName(name)),

    'reviews.open': async ({ fileId }) => {
      const path = handed.pathOf(fileId)
      if (path === null) return problem('not-found', 'This file was not handed over: choose it again.')
      try {
        return await sound(async (): Promise<OpenedReview> => {
          if (!(await stat(path)).isFile()) throw new PackProblem('This is not a file but a folder: choose a file.')
          return (await beginsAsZip(path))
            ? { kind: 'pack', packId: await store.open(path, checkFilm) }
            : await openReply(path)
        })
      } finally {
        await handed.letGo(fileId)
        changed()
      }
    },

    'packs.list': async () => success(await store.cards()),
    'packs.get': ({ packId }) => sound(() => store.detail(packId)),
    'packs.review': ({ packId, items }) =>
      sound(async () => {
        await store.merge(packId, items)
        changed()
        return store.detail(packId)
      }),
    'packs.file': ({ packId, student }) =>
      sound(async () => {
        const card = await store.file(packId, student)
        changed()
        return card
      }),
    'packs.remove': ({ packId }) =>
      sound(() => store.remove(packId, (card) => library.bin.removePack(packId, packName(card)))),
  }
  return {
    handlers,
    store,
    self,
    async cameBack() {
      await store.joinTwins()
      changed()
    },
    film(id, signal) {
      const path = store.clipPath(id)
      return path === null ? null : files.read(path, signal)
    },
  }
}

async function beginsAsZip(path: string): Promise<boolean> {
  const file = await open(path)
  try {
    const { buffer } = await file.read(Buffer.alloc(4), 0, 4, 0)
    return isZip(buffer)
  } finally {
    await file.close()
  }
}

/** A value, or the sentence that says why a pack is not opened. */
async function sound<T>(work: () => Promise<T>): Promise<Outcome<T>> {
  try {
    return await answered(work)
  } catch (error) {
    if (error instanceof PackProblem) return problem('unreadable', error.message)
    throw error
  }
}

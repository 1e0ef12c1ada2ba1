import { realpath, rmdir, stat } from 'node:fs/promises'
import { isAbsolute, join, resolve } from 'node:path'
import type { UnreadableThing } from '../contract/unreadable.ts'
import { makeFolder } from '../files/make-folder.ts'
import { type ChangedSettings, type Settings, withChanged } from '../contract/settings.ts'
import { rideName } from '../../analysis/words/ride-name.ts'
import { type Backup, writeBackup } from './backup.ts'
import { Bin } from './bin.ts'
import { BinFolder, type BinRecord } from './bin-folder.ts'
import { CardShelf, type Shelving } from './card-shelf.ts'
import { ChangeQueue } from './change-queue.ts'
import { ClipShelf } from './clip-shelf.ts'
import { folderToMoveTo, makeEmpty } from './empty-folder.ts'
import { type FolderLock, lockFolder } from './folder-lock.ts'
import type { AllFiles, AllKept } from './all-kept.ts'
import { IndexFile } from './index-file.ts'
import { CLIP_FILES, type Kept, KeptFiles, PICTURES, type Touched } from './kept-files.ts'
import { type Kind, KINDS } from './kinds.ts'
import { folderOfLibrary, LIBRARY_FILE, rememberFolder } from './library-folder.ts'
import { LibraryProblem, libraryProblem } from './library-problem.ts'
import type { Library } from './library.ts'
import { migrate } from './migrate.ts'
import { notedName } from './noted-name.ts'
import { formatAfter, type Migration, MIGRATIONS, type Upgrade, upgradeOf } from './migrations.ts'
import { copyLibrary, removeLibrary } from './move-library.ts'
import { KeptRides } from './ride-shelf.ts'
import { SetAside } from './set-aside.ts'
import { openSettings, settingsIn } from './settings-file.ts'
import type { StoreFile } from './store-file.ts'
import { beginMove, endMove, settleMove } from './unfinished-move.ts'

export interface LibraryOptions {
  /** Told things worth knowing that are no reason not to open: a damaged file, a sentence each. */
  readonly onNote?: (sentence: string) => void
  /** ms since 1970; the clock unless given. */
  readonly now?: () => number
  /** Steps from format 1 on; tests give their own. */
  readonly migrations?: readonly Migration[]
}

/** A library that can be moved: its folders are others afterwards, so ask for them when they are needed. */
export interface OpenLibrary extends Library {
  /** From the next start on the library of another folder is opened in the place of this one, which stays where it is. */
  openNext(folder: string): Promise<void>
  /** Moves everything to an empty folder, which is remembered in the first one. */
  moveTo(folder: string): Promise<void>
  /** Writes everything into one ZIP file; clips that lie in places of their own are only named in it. */
  backUp(path: string): Promise<Backup & { readonly clipsElsewhere: number }>
}

/** After so many things have changed the index is written anew. */
const journalLimit = 2000

/**
 * Opens the library of a folder, wherever it was moved since; makes an empty one where there is none.
 *
 * @throws LibraryProblem with a sentence: open elsewhere, from a newer program, not there, not to be written
 */
export async function openLibrary(folder: string, options: LibraryOptions = {}): Promise<OpenLibrary> {
  const home = resolve(folder)
  try {
    await makeFolder(home)
    return await openAt(home, await realpath(await folderOfLibrary(home)), options)
  } catch (error) {
    throw libraryProblem(error, home)
  }
}

async function openAt(home: string, folder: string, options: LibraryOptions): Promise<OpenLibrary> {
  const queue = new ChangeQueue()
  const onLost = () => queue.lose(lost(folder))
  const onNote = options.onNote ?? (() => undefined)
  const lock = await lockFolder(folder, onLost)
  try {
    const migrations = options.migrations ?? MIGRATIONS
    await settleMove(folder, onNote)
    await migrate(folder, migrations)
    const place = { folder }
    const files = filesOf(place, migrations)
    const store = await openSettings(folder, formatAfter(migrations), onNote)
    const removed = await new BinFolder(place).open(onNote)
    const setAside = new SetAside(place)
    await setAside.bringBackMended(files)
    const { index, kept } = await IndexFile.open(folder, formatAfter(migrations), files, setAside)
    for (const one of await setAside.list(files)) onNote(unreadableSentence(one))
    const session = { lock, store, index }
    const now = options.now ?? Date.now
    const library = new FolderLibrary({ home, place, migrations, queue, files, kept, removed, onNote, now, session })
    await library.bin.deleteOld().catch((error: unknown) => onNote(libraryProblem(error, folder).message))
    return library
  } catch (error) {
    await lock.release()
    throw error
  }
}

function unreadableSentence({ kind, id, name, why, folder }: UnreadableThing): string {
  return `The ${kind} ${name ?? id} cannot be read (${why}) and was set aside in ${folder}: put a good copy there.`
}

function lost(folder: string): LibraryProblem {
  const advice = 'close this window and open it again'
  return new LibraryProblem('in-use', `The library ${folder} was taken over by another Tiphold or is gone: ${advice}.`)
}

function filesOf(place: { readonly folder: string }, migrations: readonly Migration[]): AllFiles {
  const format = formatAfter(migrations)
  const asItIs = (part: unknown) => part
  return {
    dogs: new KeptFiles('dogs', place, format, asItIs),
    boards: new KeptFiles('boards', place, format, asItIs),
    clips: new KeptFiles('clips', place, format, upgradeOf(migrations, 'clipPart')),
    rides: new KeptFiles('rides', place, format, upgradeOf(migrations, 'ridePart')),
    noted: new KeptFiles('noted', place, format, asItIs),
  }
}

/** What belongs to the folder where the library lies now. */
interface Session {
  readonly lock: FolderLock
  readonly store: StoreFile
  readonly index: IndexFile
}

interface LibraryParts {
  readonly home: string
  readonly place: { folder: string }
  readonly migrations: readonly Migration[]
  readonly queue: ChangeQueue
  readonly files: AllFiles
  readonly kept: AllKept
  readonly removed: readonly BinRecord[]
  readonly onNote: (sentence: string) => void
  readonly now: () => number
  readonly session: Session
}

class FolderLibrary implements OpenLibrary {
  readonly dogs
  readonly boards
  readonly clips
  readonly rides
  readonly noted
  readonly bin
  readonly settings
  readonly #parts: LibraryParts
  readonly #cards
  readonly #listeners = new Set<Parameters<Library['onChanged']>[0]>()
  #session: Session
  #settings: Settings
  #lastAddedAt = 0
  #closing: Promise<void> | null = null

  constructor(parts: LibraryParts) {
    this.#parts = parts
    this.#session = parts.session
    this.#settings = settingsIn(parts.session.store)
    const { files, kept, place } = parts
    const shelving = this.#shelving()
    this.#cards = {
      dogs: new CardShelf(files.dogs, shelving, kept.dogs),
      boards: new CardShelf(files.boards, shelving, kept.boards),
      clips: new CardShelf(files.clips, shelving, kept.clips),
      rides: new CardShelf(files.rides, shelving, kept.rides),
      noted: new CardShelf(files.noted, shelving, kept.noted),
    }
    const { dogs, boards, clips, rides, noted } = this.#cards
    for (const { addedAt } of KINDS.flatMap((kind) => [...kept[kind]])) {
      this.#lastAddedAt = Math.max(this.#lastAddedAt, addedAt)
    }
    this.dogs = dogs
    this.boards = boards
    this.clips = new ClipShelf(clips, place)
    this.rides = new KeptRides(rides, {
      clip: (id) => {
        const clip = clips.get(id)
        return clip === null ? null : { fileName: clip.facts.fileName, takenInAt: clip.takenInAt, sample: clip.sample }
      },
      dogName: (id) => dogs.get(id)?.name ?? null,
      boardName: (id) => boards.get(id)?.name ?? null,
    })
    this.noted = noted
    const format = formatAfter(parts.migrations)
    this.bin = new Bin({
      folder: new BinFolder(place),
      records: parts.removed,
      shelving,
      shelves: this.#cards,
      nameOf: (thing) => this.#nameOf(thing),
      upgraded: ({ kind }, kept) => upgradedCard(kept, format, upgradeOf(parts.migrations, kind)),
      now: parts.now,
    })
    this.settings = {
      get: () => this.#settings,
      keep: (changed: ChangedSettings) => this.#keepSettings(changed),
    }
  }

  get folder(): string {
    return this.#parts.place.folder
  }

  get picturesFolder(): string {
    return join(this.folder, PICTURES)
  }

  get clipsFolder(): string {
    return join(this.folder, CLIP_FILES)
  }

  onChanged(listener: Parameters<Library['onChanged']>[0]): () => void {
    // A listener of its own, so that the same function may listen twice.
    const own: typeof listener = (what) => listener(what)
    this.#listeners.add(own)
    return () => this.#listeners.delete(own)
  }

  unreadable(): Promise<UnreadableThing[]> {
    return new SetAside(this.#parts.place).list(this.#parts.files)
  }

  async backUp(path: string): Promise<Backup & { readonly clipsElsewhere: number }> {
    const backup = await this.#run(() => writeBackup(this.folder, path))
    return { ...backup, clipsElsewhere: this.#cards.clips.list().filter((clip) => isAbsolute(clip.path)).length }
  }

  async openNext(wanted: string): Promise<void> {
    const { home } = this.#parts
    await this.#run(async () => {
      const isLibrary = isAbsolute(wanted) && (await stat(join(wanted, LIBRARY_FILE)).catch(() => null)) !== null
      if (!isLibrary) throw new LibraryProblem('bad-input', `There is no library in ${wanted}: choose another folder.`)
      const to = await realpath(wanted)
      await rememberFolder(home, to === (await realpath(home)) ? home : to)
    })
  }

  async moveTo(wanted: string): Promise<void> {
    const { home, place, queue, migrations, onNote } = this.#parts
    try {
      await queue.run(async () => {
        const from = place.folder
        const before = this.#session
        await this.#makeSureOfFolder()
        const to = await folderToMoveTo(wanted, from)
        await before.index.write(this.#allKept())
        const lock = await lockFolder(to, () => queue.lose(lost(to)))
        try {
          await makeEmpty(to)
        } catch (error) {
          await lock.release()
          throw error
        }
        try {
          await beginMove(to, { from, home })
          await copyLibrary(from, to)
          const format = formatAfter(migrations)
          const store = await openSettings(to, format, onNote)
          const { index } = await IndexFile.open(
            to,
            format,
            filesOf({ folder: to }, migrations),
            new SetAside({ folder: to }),
          )
          await rememberFolder(home, to === (await realpath(home)) ? home : to)
          this.#session = { lock, store, index }
          place.folder = to
        } catch (error) {
          await rememberFolder(home, from === (await realpath(home)) ? home : from)
          await removeLibrary(to)
          await endMove(to)
          await lock.release()
          await rmdir(to).catch(() => undefined)
          throw error
        }
        this.clips.forget()
        await before.lock.release().catch(() => undefined)
        await removeLibrary(from).catch(() => {
          onNote(`The library is in ${to} now; what is left of it in ${from} can be deleted.`)
        })
        await endMove(to)
      })
    } catch (error) {
      throw libraryProblem(error, wanted)
    }
    this.#tell('clips')
  }

  close(): Promise<void> {
    this.#closing ??= this.#close()
    return this.#closing
  }

  async #close(): Promise<void> {
    const { queue, onNote } = this.#parts
    await queue.close(new LibraryProblem('failed', 'The library is closed: open Tiphold again.'))
    const { index, lock } = this.#session
    if (!queue.isLost && !(await lock.isOurs().catch(() => false))) queue.lose(lost(this.folder))
    try {
      if (!queue.isLost && index.journal.size > 0) await index.write(this.#allKept())
    } catch (error) {
      // Nothing is lost: the journal says what the index lacks.
      onNote(libraryProblem(error, this.folder).message)
    }
    await index.journal.close()
    if (!queue.isLost) await lock.release()
  }

  #shelving(): Shelving {
    const { place, now } = this.#parts
    return {
      get folder() {
        return place.folder
      },
      run: (work) => this.#run(work),
      noteChange: async (touched) => {
        if (this.#session.index.journal.size >= journalLimit) await this.#session.index.write(this.#allKept())
        await this.#session.index.journal.note(touched)
      },
      tellChange: (what) => this.#tell(what),
      remove: (touched) => this.bin.remove(touched),
      nextAddedAt: () => (this.#lastAddedAt = Math.max(now(), this.#lastAddedAt + 1)),
    }
  }

  /** Does one change in its turn. It is done only if the folder was ours before and still is after it. */
  async #run<T>(work: () => Promise<T>): Promise<T> {
    const { place, queue } = this.#parts
    try {
      return await queue.run(async () => {
        await this.#makeSureOfFolder()
        const done = await work()
        await this.#makeSureOfFolder()
        return done
      })
    } catch (error) {
      throw libraryProblem(error, place.folder)
    }
  }

  async #makeSureOfFolder(): Promise<void> {
    if (await this.#session.lock.isOurs()) return
    const gone = lost(this.folder)
    this.#parts.queue.lose(gone)
    throw gone
  }

  #nameOf({ kind, id }: Touched): string {
    const { dogs, boards, clips } = this.#cards
    const clip = clips.get(id)
    const ride = this.rides.cards().find((card) => card.id === id)
    switch (kind) {
      case 'dogs':
        return dogs.get(id)?.name ?? ''
      case 'boards':
        return boards.get(id)?.name ?? ''
      case 'clips':
        return clip === null ? '' : clip.setup.title || clip.facts.fileName
      case 'rides':
        return ride === undefined ? '' : rideName(ride)
      case 'noted':
        return notedName(this.#cards.noted.get(id), (dogId) => dogs.get(dogId)?.name ?? null)
    }
  }

  #allKept(): AllKept {
    const { dogs, boards, clips, rides, noted } = this.#cards
    return {
      dogs: dogs.kept(),
      boards: boards.kept(),
      clips: clips.kept(),
      rides: rides.kept(),
      noted: noted.kept(),
    }
  }

  async #keepSettings(changed: ChangedSettings): Promise<void> {
    const format = formatAfter(this.#parts.migrations)
    await this.#run(async () => {
      const settings = withChanged(this.#settings, changed)
      await this.#session.store.write({ format, settings })
      this.#settings = settings
    })
    this.#tell('settings')
  }

  /** Cards of rides name dogs, boards and clips, so these change with them. */
  #tell(what: Kind | 'packs' | 'bin' | 'settings'): void {
    if (what !== 'settings' && what !== 'bin' && what !== 'packs') this.rides.forget()
    const told = what === 'dogs' || what === 'boards' ? ([what, 'rides'] as const) : ([what] as const)
    for (const one of told) for (const listener of this.#listeners) listener(one)
  }
}

/** A card in the format of this program; the same object where it is. */
function upgradedCard(kept: Kept<unknown>, format: number, upgrade: Upgrade): Kept<unknown> {
  return kept.format === format ? kept : { ...kept, format, card: upgrade(kept.card, kept.format) }
}

import type { Drop } from '../../analysis/drop/drop-test.ts'
import type { SlowMotion } from '../../analysis/clip/slow-motion.ts'
import type { Removed } from '../contract/bin.ts'
import type { ReviewItem } from '../../analysis/review/review-item.ts'
import type { ClipFacts, ClipSetup, MarksDraft } from '../contract/clips.ts'
import type { Dog, KeptBoard } from '../contract/dogs-and-boards.ts'
import type { NotedRide } from '../contract/noted-rides.ts'
import type { RideCard, RideCorrections, RideDetail } from '../contract/rides.ts'
import type { RideSession } from '../contract/sessions.ts'
import type { ChangedSettings, Settings } from '../contract/settings.ts'
import type { UnreadableThing } from '../contract/unreadable.ts'

/**
 * Everything that Tiphold keeps, in one folder. Reading is from memory; a change is on the disk when its promise is
 * fulfilled. One program at a time has it open.
 */
export interface Library {
  readonly folder: string
  /** Where prepared pictures lie; may be emptied at any time. */
  readonly picturesFolder: string
  /** Where files lie that were handed over without a place of their own (uploads). */
  readonly clipsFolder: string
  readonly dogs: Shelf<Dog>
  readonly boards: Shelf<KeptBoard>
  readonly clips: Shelf<KeptClip>
  readonly rides: RideShelf
  /** Rides without their film. */
  readonly noted: Shelf<NotedRide>
  /** What was removed in the last 30 days. */
  readonly bin: LibraryBin
  /** What could not be read and was set aside, now or earlier. */
  unreadable(): Promise<readonly UnreadableThing[]>
  /** What is not among the changed ones stays as it is. */
  readonly settings: { get(): Settings; keep(changed: ChangedSettings): Promise<void> }
  /** Calls back after every change until the returned function is called. */
  onChanged(
    listener: (what: 'dogs' | 'boards' | 'clips' | 'rides' | 'noted' | 'packs' | 'bin' | 'settings') => void,
  ): () => void
  /** Lets go of the folder, after what is being written. */
  close(): Promise<void>
}

export interface LibraryBin {
  /** The latest first. */
  list(): readonly Removed[]
  /** Under its own id, with all that went with it. */
  putBack(removedId: string): Promise<Removed>
  /** Moves a pack that somebody sent into it; its folder must be there. `name` is what it is called in lists. */
  removePack(id: string, name: string): Promise<Removed>
  /** Deletes everything in it for good. */
  empty(): Promise<void>
  /** Files of the library's own that something in it needs when it comes back, below the library's folder. */
  copies(): readonly string[]
}

export interface Shelf<T extends { readonly id: string }> {
  /** Newest first. */
  list(): readonly T[]
  get(id: string): T | null
  put(one: T): Promise<void>
  /**
   * Changes one thing after all changes that were asked for before: `to` gets it as it is then, and may throw to leave
   * it so. Gives what it became; null where there is none.
   */
  update(id: string, to: (now: T) => T): Promise<T | null>
  /** Into the bin, a clip with its rides; gives what was removed, null where there is none. */
  remove(id: string): Promise<Removed | null>
}

/** A clip as it is kept. */
export interface KeptClip {
  readonly id: string
  /** ISO 8601. */
  readonly takenInAt: string
  /** The day that the film's own tags tell, by this machine's time zone; null where they tell none. */
  readonly filmedOn: string | null
  /** Absolute path of the file; the library holds a copy only of files without a place of their own. */
  readonly path: string
  readonly sizeBytes: number
  readonly facts: ClipFacts
  /** s of the file's own time, one a frame. */
  readonly frameTimesS: readonly number[]
  readonly slowMotion: SlowMotion
  readonly setup: ClipSetup
  readonly marks: MarksDraft
  /** The name of the bundled sample clip that this is. */
  readonly sample: string | null
  /** The drop tests that were measured in it. */
  readonly drop?: KeptDrop
}

/** The drop tests of one clip and the board on which they were done. */
export interface KeptDrop {
  readonly boardId: string
  readonly drop: Drop
  /** Those after the first. */
  readonly furtherDrops?: readonly Drop[]
}

/** A ride as it is kept: what was measured, and what people said of it. */
export interface KeptRide {
  readonly id: string
  readonly clipId: string
  readonly dogId: string | null
  readonly boardId: string | null
  readonly title: string
  readonly note: string
  readonly session: RideSession
  readonly corrections: RideCorrections
  /** What was said of it, merged. */
  readonly review: readonly ReviewItem[]
  /** Never changed after measuring. */
  readonly record: RideRecord
}

export type RideRecord = Pick<RideDetail, 'measured' | 'dog' | 'track' | 'picture'>

/** Rides are many and large: their cards are in memory, the rest is read when asked for. */
export interface RideShelf {
  /** Newest first, with the names of dog, board and clip as they are now. */
  cards(): readonly RideCard[]
  get(id: string): Promise<KeptRide | null>
  /** Keeps a ride; what its card says of it is worked out here. */
  put(ride: KeptRide): Promise<void>
  /**
   * Puts a new record in the place of a ride's old one. What people said of the ride stays as it is then; `over` says
   * what becomes of its corrections (`before` is null where the old record cannot be read). False where there is none.
   */
  measureAgain(
    id: string,
    record: RideRecord,
    boardId: string | null,
    titleIfNone: string,
    over: (record: RideRecord, before: RideRecord | null, corrections: RideCorrections) => RideCorrections,
  ): Promise<boolean>
  /** Changes what people said; the record stays. */
  change(
    id: string,
    change: Partial<Pick<KeptRide, 'dogId' | 'title' | 'note' | 'corrections'>>,
    /** Asked about the ride as it is then; what it throws leaves the ride so. */
    check?: (record: RideRecord) => void,
  ): Promise<void>
  /** Another object after each change of the ride, so that what was made of it can be kept; null where there is none. */
  version(id: string): object | null
  /** Changes when, where and what for a ride was; `to` gets it as it is then. False where there is none. */
  changeSession(id: string, to: (now: RideSession) => RideSession, dogId?: string): Promise<boolean>
  /** Merges what was said of a ride into what is kept. */
  review(id: string, items: readonly ReviewItem[]): Promise<void>
  remove(id: string): Promise<Removed | null>
}

import { z } from 'zod'
import type { Comparison } from '../../analysis/progress/compare.ts'
import type { Removed } from './bin.ts'
import { clipSetup, marksDraft, type ClipCard, type ClipDetail, type MarksSearch } from './clips.ts'
import { boardInput, dogInput, type Dog, type KeptBoard } from './dogs-and-boards.ts'
import { BOARD_FORMATS, type BoardTested, type FeltBoard, DROP_RULES } from './drops.ts'
import { type Export, exportOrder } from './exports.ts'
import type { Job } from './jobs.ts'
import { notedRideInput, type NotedRide } from './noted-rides.ts'
import type { Outcome } from './outcome.ts'
import type { PictureSize } from './picture-paths.ts'
import { type OpenedReview, type PackCard, type PackDetail, reviewItems, type ReviewSelf } from './review.ts'
import {
  allRidesQuery,
  type AnyRideCard,
  rideCorrections,
  ridesQuery,
  type RideCard,
  type RideCounts,
  type RideDetail,
  type TagCount,
} from './rides.ts'
import { sessionChange } from './sessions.ts'
import {
  COMPARISON_SAVED,
  SEASON_FORMATS,
  type CoachLine,
  type DogSeason,
  type SavedFile,
  type ShowCheckAnswer,
  SHOW_RULES,
  SHOW_SAVED,
} from './seasons.ts'
import {
  type BackupContents,
  changedSettings,
  type EngineLine,
  type LibraryBackup,
  type LibraryPlace,
  type RestoredLibrary,
  type Settings,
} from './settings.ts'
import type { UnreadableThing } from './unreadable.ts'

/** One call: how its input is parsed, and (only in types) what it gives. */
export interface Call<Input, Value> {
  readonly input: z.ZodType<Input>
  /** Never set; carries the type. */
  readonly value?: Value
}

function call<Input>(input: z.ZodType<Input>): { giving: <Value>() => Call<Input, Value> } {
  return { giving: () => ({ input }) }
}

const nothing = z.object({})
const id = z.string().min(1).max(64)
/** A dog, whose rules, and a board of the library or one that takes so long to land. */
const showAsked = z.object({
  dogId: id,
  rules: z.enum(SHOW_RULES),
  board: z.union([z.object({ boardId: id }), z.object({ dropTimeS: z.number().min(0.05).max(10) })]),
})
/** Rides of one dog, on the board of this name or on all. */
const comparedSide = z.object({ dogId: id, board: z.string().min(1).max(200).nullable() })

/**
 * Everything that the window can ask of the host, written once: client, handlers, parsers and both hosts follow from
 * it. A file of the handler's own comes in by a host's own way (a path that Electron vouches for, an upload to the
 * loopback host) and is known here by its `fileId` only.
 */
export const calls = {
  'dogs.list': call(nothing).giving<readonly Dog[]>(),
  /** Creates a dog (`id` null) or changes it. */
  'dogs.keep': call(z.object({ id: id.nullable(), dog: dogInput })).giving<Dog>(),
  /** Into the bin, as everything that is removed. Filmed rides stay, without a dog until it is back. */
  'dogs.remove': call(z.object({ id })).giving<Removed>(),

  'boards.list': call(nothing).giving<readonly KeptBoard[]>(),
  'boards.keep': call(z.object({ id: id.nullable(), board: boardInput })).giving<KeptBoard>(),
  'boards.remove': call(z.object({ id })).giving<Removed>(),
  /** What its drop tests say, held against every rule set that prescribes one; may take some seconds. */
  'boards.tested': call(z.object({ boardId: id })).giving<BoardTested>(),
  /** How the tested boards feel to dogs; those still being worked out follow with a change of the boards. */
  'boards.feels': call(nothing).giving<readonly FeltBoard[]>(),
  /** The board's page for one rule set as a file to save. */
  'boards.saveCheck': call(
    z.object({ boardId: id, rules: z.enum(DROP_RULES), format: z.enum(BOARD_FORMATS) }),
  ).giving<SavedFile>(),

  /** Newest first; those without a ride as well. */
  'clips.list': call(nothing).giving<readonly ClipCard[]>(),
  'clips.get': call(z.object({ clipId: id })).giving<ClipDetail>(),
  /** Takes a file in: reads what it is, refuses what is no clip. A file that is already here is opened again. */
  'clips.takeIn': call(z.object({ fileId: id })).giving<ClipDetail>(),
  /** Says where a missing clip lies now; refused unless its content is the same. */
  'clips.findAgain': call(z.object({ clipId: id, fileId: id })).giving<ClipDetail>(),
  'clips.setUp': call(z.object({ clipId: id, setup: clipSetup })).giving<ClipDetail>(),
  'clips.mark': call(z.object({ clipId: id, marks: marksDraft })).giving<ClipDetail>(),
  /** Marks found in the picture or carried over from clips of the same tripod place, or why there are none. */
  'clips.proposeMarks': call(z.object({ clipId: id })).giving<MarksSearch>(),
  /** Begins to prepare the clip's pictures for stepping; at once if they are ready. */
  'clips.preparePictures': call(z.object({ clipId: id })).giving<null>(),
  /** With its rides. The handler's own file is never touched. */
  'clips.remove': call(z.object({ clipId: id })).giving<Removed>(),

  'samples.list': call(nothing).giving<readonly SampleCard[]>(),
  /** Takes a bundled sample clip into the library with its marks, board and dog, ready to be measured. */
  'samples.takeIn': call(z.object({ name: z.string().min(1).max(80) })).giving<ClipDetail>(),

  /** The dogs of the invented season that are in the library; none before it is taken in. */
  'samples.season': call(nothing).giving<{ readonly isThere: boolean; readonly dogs: readonly SeasonDog[] }>(),
  /** Takes the invented season of three dogs into the library. */
  'samples.takeInSeason': call(nothing).giving<readonly SeasonDog[]>(),

  /** Needs a board and marks that fit; one clip is measured at a time, others wait. */
  'measuring.start': call(z.object({ clipId: id })).giving<Job>(),
  'measuring.stop': call(z.object({ jobId: id })).giving<null>(),
  /** Running and waiting ones, and those that ended since the program began. */
  'measuring.jobs': call(nothing).giving<readonly Job[]>(),

  'rides.list': call(ridesQuery).giving<{ readonly total: number; readonly rides: readonly RideCard[] }>(),
  /** The same with rides that were not filmed among them. */
  'rides.listAll': call(allRidesQuery).giving<{ readonly total: number; readonly rides: readonly AnyRideCard[] }>(),
  /** The tags of some rides, filmed or not, the most frequent first. */
  'rides.tags': call(z.object({ rideIds: z.array(id).min(1).max(500) })).giving<readonly TagCount[]>(),
  'rides.count': call(nothing).giving<RideCounts>(),
  'rides.get': call(z.object({ rideId: id })).giving<RideDetail>(),
  /** Replaces all corrections of a ride: `NO_CORRECTIONS` reverts to what was measured. */
  'rides.correct': call(z.object({ rideId: id, corrections: rideCorrections })).giving<RideDetail>(),
  'rides.describe': call(
    z.object({ rideId: id, title: z.string().max(120), note: z.string().max(4000), dogId: id.nullable() }),
  ).giving<RideDetail>(),
  'rides.remove': call(z.object({ rideId: id })).giving<Removed>(),
  /** Says the same of many rides, filmed or not: what the change leaves out stays as it is. Gives how many there were. */
  'rides.setSession': call(
    z.object({ rideIds: z.array(id).min(1).max(500), change: sessionChange, dogId: id.exactOptional() }),
  ).giving<{ readonly changed: number }>(),

  /** Rides without their film. */
  'noted.get': call(z.object({ id })).giving<NotedRide>(),
  /** Enters a ride by hand (`id` null) or changes one that was. */
  'noted.keep': call(z.object({ id: id.nullable(), ride: notedRideInput })).giving<NotedRide>(),
  'noted.remove': call(z.object({ id })).giving<Removed>(),

  /** All that a dog's rides say together; may take some seconds the first time. */
  'seasons.get': call(z.object({ dogId: id })).giving<DogSeason>(),
  /** The chance of leaving early on a board of the library, or on one that takes so long to land. */
  'seasons.checkShow': call(showAsked).giving<ShowCheckAnswer>(),
  'seasons.saveShow': call(showAsked.extend({ format: z.enum(SHOW_SAVED) })).giving<SavedFile>(),
  /** A dog's season as a file to save. */
  'seasons.save': call(z.object({ dogId: id, format: z.enum(SEASON_FORMATS) })).giving<SavedFile>(),
  /** Two dogs, or one on two boards, side by side; may take some seconds. */
  'seasons.compare': call(z.object({ one: comparedSide, other: comparedSide })).giving<Comparison>(),
  'seasons.saveComparison': call(
    z.object({ one: comparedSide, other: comparedSide, format: z.enum(COMPARISON_SAVED) }),
  ).giving<SavedFile>(),
  /** All dogs, the one that needs its coach most first. */
  'seasons.whoNeedsAttention': call(nothing).giving<readonly CoachLine[]>(),

  /** Adds to what was said of a ride, or changes it: of each item the highest version holds. */
  'rides.review': call(z.object({ rideId: id, items: reviewItems })).giving<RideDetail>(),

  /** Who writes comments here. */
  'reviews.self': call(nothing).giving<ReviewSelf>(),
  'reviews.setName': call(z.object({ name: z.string().trim().max(80) })).giving<ReviewSelf>(),
  /** Opens a file that somebody sent: a pack, or a reply to one of ours. */
  'reviews.open': call(z.object({ fileId: id })).giving<OpenedReview>(),

  /** Packs that others sent, the latest first. */
  'packs.list': call(nothing).giving<readonly PackCard[]>(),
  'packs.get': call(z.object({ packId: id })).giving<PackDetail>(),
  'packs.review': call(z.object({ packId: id, items: reviewItems })).giving<PackDetail>(),
  /** Moves a pack into a student's folder. */
  'packs.file': call(z.object({ packId: id, student: z.string().trim().min(1).max(80) })).giving<PackCard>(),
  /** Into the bin, with what was said of it here. The file that came stays where it was. */
  'packs.remove': call(z.object({ packId: id })).giving<Removed>(),

  /** Begins to make a file; happenings tell how far it is. */
  'exports.start': call(exportOrder).giving<Export>(),
  'exports.get': call(z.object({ exportId: id })).giving<Export>(),
  /** Stops it, or throws the ready file away. */
  'exports.stop': call(z.object({ exportId: id })).giving<null>(),

  /** What was removed in the last 30 days, the latest first. */
  'bin.list': call(nothing).giving<readonly Removed[]>(),
  /** Undoes a removal: what went is there again under its own id, a clip with the rides that went with it. */
  'bin.putBack': call(z.object({ removedId: id })).giving<Removed>(),
  /** Deletes for good all that was removed. */
  'bin.empty': call(nothing).giving<null>(),

  'settings.get': call(nothing).giving<Settings>(),
  'settings.keep': call(changedSettings).giving<Settings>(),
  'engines.report': call(nothing).giving<readonly EngineLine[]>(),

  /** What could not be read and was moved aside; everything else is shown. */
  'library.unreadable': call(nothing).giving<readonly UnreadableThing[]>(),
  'library.place': call(nothing).giving<LibraryPlace>(),
  /** Moves the library to another, empty folder, given by its absolute path. */
  'library.move': call(z.object({ folder: z.string().min(1).max(1000) })).giving<LibraryPlace>(),
  /** Writes the whole library into one ZIP file, given by its absolute path. */
  'library.backUp': call(z.object({ path: z.string().min(1).max(1000) })).giving<LibraryBackup>(),
  /** What a backup that was handed over holds. */
  'library.lookIntoBackup': call(z.object({ fileId: id })).giving<BackupContents>(),
  /** Restores it into a folder that is empty or new, and looks whether it opens; the library that is open stays. */
  'library.restore': call(z.object({ fileId: id, folder: z.string().min(1).max(1000) })).giving<RestoredLibrary>(),
  /** The file is no longer needed. */
  'library.letBackupGo': call(z.object({ fileId: id })).giving<null>(),
  /** From the next start on the library in this folder is opened; the one that is open stays where it is. */
  'library.openNext': call(z.object({ folder: z.string().min(1).max(1000) })).giving<null>(),
  /** Throws away prepared pictures; they are made anew when needed. */
  'library.emptyPictures': call(nothing).giving<LibraryPlace>(),
} as const

/** A dog of the invented season, in the library. */
export interface SeasonDog {
  readonly id: string
  readonly name: string
}

/** A bundled sample clip on the start screen. */
export interface SampleCard {
  readonly name: string
  /** "Wren holds to the ground" */
  readonly title: string
  /** What can be seen in it, a sentence. */
  readonly about: string
  /** The clip of the library that it became; null before it is taken in. */
  readonly clipId: string | null
  readonly rideId: string | null
}

export type CallName = keyof typeof calls
export type InputOf<Name extends CallName> = z.infer<(typeof calls)[Name]['input']>
export type ValueOf<Name extends CallName> = Exclude<(typeof calls)[Name]['value'], undefined>

/** What the window holds of the host. */
export interface Client {
  call<Name extends CallName>(name: Name, input: InputOf<Name>): Promise<Outcome<ValueOf<Name>>>
  /** Hands a file of the handler's over; gives its `fileId`. Stopped by `signal`, nothing is left of it. */
  bringFile(
    file: File,
    onShareDone: (share: number) => void,
    signal?: AbortSignal,
  ): Promise<Outcome<{ readonly fileId: string }>>
  /** Where a picture of a clip's frame is fetched; `picturePath` says what each size is. */
  pictureAddress(clipId: string, frameIndex: number, size: PictureSize): string
  /** Saves a file that lies ready where the handler says; false: she thought better of it. */
  saveExport(exportId: string, fileName: string): Promise<Outcome<{ readonly isSaved: boolean }>>
  /** Calls back for every happening until the returned function is called. */
  listen(onHappening: (happening: Happening) => void): () => void
}

/** What the host tells unasked. */
export type Happening =
  | { readonly kind: 'job'; readonly job: Job }
  | { readonly kind: 'pictures'; readonly clipId: string; readonly framesDone: number; readonly framesTotal: number }
  | { readonly kind: 'export'; readonly export: Export }
  /** Something kept was changed: ask again. */
  | {
      readonly kind: 'changed'
      readonly what: 'dogs' | 'boards' | 'clips' | 'rides' | 'noted' | 'packs' | 'bin' | 'settings'
    }

/** One handler for each call; a host-neutral service table. */
export type Handlers = {
  readonly [Name in CallName]: (input: InputOf<Name>) => Promise<Outcome<ValueOf<Name>>>
}

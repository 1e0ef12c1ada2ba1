import { z } from 'zod'
import { NO_CORRECTIONS } from '../../analysis/ride/corrections.ts'
import type { Board } from '../../analysis/board/board.ts'
import type { BoardTrack } from '../../analysis/board/board-track.ts'
import type { SeesawPose } from '../../analysis/calibration/pinhole-seesaw.ts'
import type { DogTrack } from '../../analysis/dog/dog-track.ts'
import type { Estimate } from '../../analysis/estimate.ts'
import type { ReviewItem } from '../../analysis/review/review-item.ts'
import type { Outline } from '../../analysis/silhouette/outline.ts'
import type { NotedRide } from './noted-rides.ts'
import type { RideSession } from './sessions.ts'
import type { LeavingVerdict, Ride, RideFootfall, ZoneVerdict } from '../../analysis/ride/ride.ts'

const timeS = z.number().min(0).max(100_000)
const footfall = z.object({
  alongM: z.number().min(-0.5).max(6.5),
  fromS: timeS,
  toS: timeS,
  limb: z.enum(['front', 'hind', 'unknown']),
})

/** What a person has set by hand over the measured ride. Times in s of real time, as in the ride. */
export const rideCorrections = z.object({
  /** An event moved to another moment, or said not to have happened in this clip. */
  events: z.partialRecord(
    z.enum(['firstOn', 'tipStart', 'grounded', 'settled', 'left']),
    z.discriminatedUnion('kind', [
      z.object({ kind: z.literal('at'), atS: timeS }),
      z.object({ kind: z.literal('did-not-happen') }),
    ]),
  ),
  /** Paw contacts: measured ones changed or struck out, by their index in the measured ride's `footfalls`; and new ones. */
  footfalls: z.object({
    changed: z.array(z.object({ index: z.number().int().min(0), footfall })).max(500),
    struckOut: z.array(z.number().int().min(0)).max(500),
    added: z.array(footfall).max(500),
  }),
  /** A zone judged by eye, over everything else. */
  zones: z.partialRecord(z.enum(['up', 'down']), z.enum(['touched', 'missed'])),
})
export type RideCorrections = z.infer<typeof rideCorrections>

export { NO_CORRECTIONS }

/** What lists are narrowed and sorted by. */
export const ridesQuery = z.object({
  /** Words that dog, board, title, note, file name or comments must hold; empty: all. */
  words: z.string().max(200),
  dogId: z.string().nullable(),
  boardId: z.string().nullable(),
  leaving: z.enum(['after-ground', 'before-ground', 'before-tip', 'too-close', 'not-seen']).nullable(),
  sortBy: z.enum(['newest', 'oldest', 'dog', 'shortest-hold', 'longest-hold']),
  offset: z.number().int().min(0),
  limit: z.number().int().min(1).max(200),
})
export type RidesQuery = z.infer<typeof ridesQuery>

/** The same of all rides, filmed or not. */
export const allRidesQuery = ridesQuery.extend({
  film: z.enum(['any', 'filmed', 'not-filmed']),
})
export type AllRidesQuery = z.infer<typeof allRidesQuery>

/** How many rides a dog or a board has, and when the newest was (ISO 8601). */
export interface RideCount {
  readonly rides: number
  readonly lastAt: string
}

/** By id; dogs and boards without a ride are not in it. */
export interface RideCounts {
  readonly dogs: Readonly<Record<string, RideCount>>
  readonly boards: Readonly<Record<string, RideCount>>
}

/** A ride in a list: corrected values where a person has corrected. */
export interface RideCard {
  readonly id: string
  readonly clipId: string
  readonly fileName: string
  readonly title: string
  readonly note: string
  /** ISO 8601, when the clip was taken in. */
  readonly takenInAt: string
  readonly session: RideSession
  readonly dogId: string | null
  readonly dogName: string | null
  readonly boardId: string | null
  readonly boardName: string | null
  readonly sample: string | null
  readonly isCorrected: boolean
  /** What was said of it, for the search. */
  readonly comments: readonly string[]
  readonly leaving: LeavingVerdict
  readonly up: ZoneVerdict
  readonly down: ZoneVerdict
  readonly hold: Estimate
  readonly leavingMargin: Estimate
  readonly leadPawAtTip: Estimate
  readonly miniature: ChartMiniature
  /** The frame of the clip that stands for the ride: where the board begins to tip, else half-way. */
  readonly filmFrame: number
  /** Which ride of its clip it is, from 1 on, in order of time, and of how many. */
  readonly inClip: { readonly ride: number; readonly of: number }
}

/** What lists are searched, narrowed and sorted by, whether there is a film or not. */
export interface FoundBy extends Pick<
  RideCard,
  'id' | 'dogId' | 'dogName' | 'boardId' | 'boardName' | 'title' | 'note' | 'fileName' | 'comments' | 'session' | 'hold'
> {
  /** null where nobody said. */
  readonly leaving: LeavingVerdict | null
}

/** A ride without its film in a list. Its title and file name are empty. */
export interface NotedCard extends FoundBy {
  readonly origin: NotedRide['origin']
}

/** A ride in a list of all; those without a film have an `origin`. */
export type AnyRideCard = RideCard | NotedCard

/** How many of some rides have a tag. */
export interface TagCount {
  readonly tag: string
  readonly rides: number
}

/** Enough for a small plank chart in a list. */
export interface ChartMiniature {
  readonly lengthM: number
  readonly contactM: number
  readonly fromS: number
  readonly toS: number
  readonly footfalls: readonly RideFootfall[]
  /** Moments of events that were measured, s. */
  readonly tipStartS: number | null
  readonly groundedS: number | null
  readonly leftS: number | null
}

/** One ride with all it takes to show, prove and correct it. Arrays of numbers travel as plain lists, NaN as null. */
export interface RideDetail {
  readonly card: RideCard
  /** As measured; never changed by corrections. */
  readonly measured: Ride
  /** What holds now: as measured where nothing was corrected. */
  readonly current: Ride
  readonly corrections: RideCorrections
  /** What the handler and her coaches said of it. */
  readonly review: readonly ReviewItem[]
  /** The curves behind the ride, so that corrections recompute at once in the window. */
  readonly dog: Listed<DogTrack>
  readonly track: Listed<BoardTrack>
  readonly picture: RidePictureRecord
}

/** Where the board stood in each frame of the ride, to draw it on the clip's own pictures. */
export interface RidePictureRecord {
  readonly board: Board
  /** The calibrated camera: `new PinholeSeesaw(pose, board, exitSide)`. */
  readonly pose: SeesawPose
  readonly exitSide: 1 | -1
  /** Root mean square distance of the marks from the fitted points, full-resolution px. */
  readonly misfitPx: number
  /** One element a frame of the ride: its index in the clip, in display order. */
  readonly frameIndex: readonly number[]
  /** rad; null where the plank was not followed. */
  readonly angleRad: readonly (number | null)[]
  /** 3x3 homographies, row by row, from image px of the marks' rest frame to image px of this frame; null if not known. */
  readonly cameraMotion: readonly (readonly number[] | null)[]
  /** The dog's outline in each frame, null where it is not known; absent in rides measured before there were outlines. */
  readonly outlines?: readonly (Outline | null)[]
  /** Loudness through the ride: 0 silence, 1 the loudest a file can hold; null for a clip without sound. */
  readonly sound: { readonly startS: number; readonly rateHz: number; readonly level: readonly number[] } | null
}

/** A record whose typed arrays became plain lists, with null for NaN. */
export type Listed<T> = {
  readonly [K in keyof T]: T[K] extends Float64Array | Float32Array
    ? readonly (number | null)[]
    : T[K] extends Uint8Array | Int32Array
      ? readonly number[]
      : T[K]
}

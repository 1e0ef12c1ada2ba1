import { z } from 'zod'
import type { ReviewItem } from '../../analysis/review/review-item.ts'
import { VOICE_LIMITS, voiceType } from '../../analysis/review/voice.ts'
import type { Ride } from '../../analysis/ride/ride.ts'
import type { RidePictureRecord } from './rides.ts'

/** The most that one review may hold; more is refused with a sentence. */
export const REVIEW_LIMITS = {
  items: 2000,
  textLetters: 4000,
  nameLetters: 80,
  strokesAnItem: 40,
  pointsAStroke: 1500,
  version: 1_000_000_000,
} as const

const timeS = z.number().min(0).max(100_000)
const text = z.string().max(REVIEW_LIMITS.textLetters)
const share = z.number().min(-0.5).max(1.5)

const AUTHOR = /^[0-9a-f]{16}$/
const ITEM = /^([0-9a-f]{16})\.[0-9a-f]{12}$/

const reviewAuthor = z.looseObject({
  id: z.string().regex(AUTHOR),
  name: z.string().max(REVIEW_LIMITS.nameLetters),
})

const stroke = z.looseObject({
  shape: z.enum(['line', 'arrow', 'freehand', 'angle']),
  points: z
    .array(z.looseObject({ xShare: share, yShare: share }))
    .min(1)
    .max(REVIEW_LIMITS.pointsAStroke),
})

const voice = z.looseObject({
  durationS: z.number().positive().max(VOICE_LIMITS.durationS),
  sound: z
    .string()
    .max(VOICE_LIMITS.letters)
    .regex(/^[A-Za-z0-9+/]+={0,2}$/)
    .refine((sound) => voiceType(sound) !== null, 'a recording must be WebM, Ogg or MP4'),
})

const head = {
  id: z.string().regex(ITEM),
  author: reviewAuthor,
  version: z.number().int().min(1).max(REVIEW_LIMITS.version),
  madeAt: z.string().max(40),
  isRemoved: z.boolean(),
}

const event = z.enum(['firstOn', 'tipStart', 'grounded', 'settled', 'left'])
const to = z.discriminatedUnion('kind', [
  z.looseObject({ kind: z.literal('at'), atS: timeS }),
  z.looseObject({ kind: z.literal('did-not-happen') }),
])

/** The kinds of items that this program knows. Fields that it does not know are kept. */
export const knownItem = z.discriminatedUnion('kind', [
  z.looseObject({
    ...head,
    kind: z.literal('comment'),
    atS: timeS.nullable(),
    toS: timeS.nullable(),
    text,
    strokes: z.array(stroke).max(REVIEW_LIMITS.strokesAnItem),
    voice: voice.exactOptional(),
  }),
  z.looseObject({ ...head, kind: z.literal('question'), atS: timeS.nullable(), text }),
  z.looseObject({ ...head, kind: z.literal('suggestion'), event, to, text }),
  z.looseObject({
    ...head,
    kind: z.literal('answer'),
    about: z.string().regex(ITEM),
    verdict: z.enum(['accepted', 'refused']),
  }),
])

/** What every item has, whatever its kind. */
export const itemHead = z.looseObject({ ...head, kind: z.string().max(40) })

const reviewItem: z.ZodType<ReviewItem> = z
  .union([knownItem, z.object({ ...head, kind: z.literal('unknown'), asItCame: z.record(z.string(), z.unknown()) })])
  .refine((item) => item.id.startsWith(`${item.author.id}.`), 'an item must begin with its author’s id')

export const reviewItems = z.array(reviewItem).max(REVIEW_LIMITS.items)

/** Who writes here: chance made the id, the name is what others see. */
export interface ReviewSelf {
  readonly authorId: string
  readonly name: string
}

/** A pack that somebody sent, in a list. */
export interface PackCard {
  readonly id: string
  /** ISO 8601, when it was opened here first. */
  readonly openedAt: string
  /** ISO 8601, when it was made, as it says itself. */
  readonly madeAt: string
  /** The folder it lies in: a student's name. */
  readonly student: string
  readonly handlerName: string
  readonly dogName: string
  readonly title: string
  readonly questions: number
  readonly comments: number
}

/** A pack with all it takes to look at it and to write on it. */
export interface PackDetail {
  readonly card: PackCard
  /** What the reply answers. */
  readonly packId: string
  readonly rideId: string
  /** The handler's id: only her answers count. */
  readonly handlerId: string
  /** What held when the pack was made, corrections included. */
  readonly ride: Ride
  readonly film: PackFilm
  readonly items: readonly ReviewItem[]
}

/** The frames that a pack shows: element `k` of everything here is frame `k` of its film. */
export interface PackFilm {
  /** s of the ride's real time. */
  readonly ptsS: readonly number[]
  readonly picture: RidePictureRecord
  /** Size of the clip that the marks belong to, px; the film may be smaller. */
  readonly widthPx: number
  readonly heightPx: number
}

/** A reply as it is saved. */
export const REPLY_FORMAT = 'tiphold.review-reply/1'

/** What opening a file brought. */
export type OpenedReview =
  | { readonly kind: 'pack'; readonly packId: string }
  /** `added`: items that were not known before. */
  | { readonly kind: 'reply'; readonly rideId: string; readonly added: number }

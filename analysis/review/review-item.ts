import type { CorrectableEvent, EventCorrection } from '../ride/corrections.ts'
import type { Voice } from './voice.ts'

/** Who wrote an item. Ids are made by chance, one a library or a browser; names are what people typed. */
export interface ReviewAuthor {
  readonly id: string
  readonly name: string
}

/** A point of a frame: 0, 0 is its upper left corner, 1, 1 its lower right one, whatever the size of the picture. */
export interface FrameShare {
  readonly xShare: number
  readonly yShare: number
}

export type StrokeShape = 'line' | 'arrow' | 'freehand' | 'angle'

/** A line and an arrow have two points, an angle three with its corner in the middle, freehand any number. */
export interface Stroke {
  readonly shape: StrokeShape
  readonly points: readonly FrameShare[]
}

interface ItemHead {
  /** `AUTHOR.RANDOM`: begins with its author's id, so that nobody's item is taken for another's. */
  readonly id: string
  readonly author: ReviewAuthor
  /** Counts up with every change; the highest one holds. */
  readonly version: number
  /** ISO 8601; for people only, nothing is decided by it. */
  readonly madeAt: string
  /** Taken back by its author. It stays, so that an older copy does not bring it back. */
  readonly isRemoved: boolean
}

/** Words, drawings, a recording, or several of them. */
export interface ReviewComment extends ItemHead {
  readonly kind: 'comment'
  /** s of the ride's real time; null: about the whole ride. */
  readonly atS: number | null
  /** The end of a span; null: one moment. */
  readonly toS: number | null
  readonly text: string
  /** On the frame at `atS`. */
  readonly strokes: readonly Stroke[]
  /** Absent where nothing was spoken. */
  readonly voice?: Voice
}

/** What the handler wants to know. */
export interface ReviewQuestion extends ItemHead {
  readonly kind: 'question'
  readonly atS: number | null
  readonly text: string
}

/** Another moment for an event; nothing changes until the handler accepts it. */
export interface ReviewSuggestion extends ItemHead {
  readonly kind: 'suggestion'
  readonly event: CorrectableEvent
  readonly to: EventCorrection
  readonly text: string
}

/** What the handler made of a suggestion. */
export interface ReviewAnswer extends ItemHead {
  readonly kind: 'answer'
  /** The suggestion's id. */
  readonly about: string
  readonly verdict: 'accepted' | 'refused'
}

/** Of a kind that a newer program made: it is kept and handed on, not shown. */
export interface UnknownItem extends ItemHead {
  readonly kind: 'unknown'
  /** The item as it came. */
  readonly asItCame: Readonly<Record<string, unknown>>
}

/** One thing that somebody said of a ride. Only its author changes it. */
export type ReviewItem = ReviewComment | ReviewQuestion | ReviewSuggestion | ReviewAnswer | UnknownItem

import type { Board } from '../../analysis/board/board.ts'
import type { Marks } from '../../analysis/board/marks.ts'
import type { MarksSearch } from '../../analysis/finding/marks-offer.ts'
import type { ClipSetup } from '../contract/clips.ts'

/** A clip for which marks are to be proposed. */
export interface ClipToMark {
  readonly path: string
  readonly fileName: string
  readonly stretch: ClipSetup['stretch']
  readonly travel: ClipSetup['travel']
  readonly slowMotionFactor: number
  /** null: not chosen yet. */
  readonly board: Board | null
}

/** A marked clip of the same picture size. */
export interface MarkedClip {
  readonly path: string
  readonly fileName: string
  readonly marks: Marks
  readonly board: Board
}

/** What the proposing process is told. */
export interface ToProposing {
  readonly clip: ClipToMark
  /** Those whose marks may be carried over, the likeliest first. */
  readonly known: readonly MarkedClip[]
}

/** What it answers, once. */
export type FromProposing =
  { readonly kind: 'proposed'; readonly search: MarksSearch } | { readonly kind: 'failed'; readonly message: string }

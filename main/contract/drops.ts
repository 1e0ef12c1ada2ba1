import type { BoardSizes } from '../../analysis/board-sizes/board-sizes.ts'
import type { BuildFinding } from '../../analysis/rules/build-check.ts'
import type { BoardFeel } from '../../analysis/board-physics/feel.ts'
import type { BoardCheckFile } from '../../analysis/board-physics/board-check-file.ts'
import type { Drop } from '../../analysis/drop/drop-test.ts'

/** A drop test of a board, and the clip that it was measured in. */
export interface BoardDrop extends Pick<Drop, 'massKg' | 'massAtM' | 'moved' | 'measures' | 'notes'> {
  readonly clipId: string
  readonly fileName: string
  /** Which of several drops in its clip; null where it is the only one. */
  readonly place: { readonly number: number; readonly of: number } | null
  /** The day that the film's own tags tell, else the day on which it was taken in: `2026-05-14`. */
  readonly day: string
}

/** Everything that the drop tests of one board say. */
export interface BoardTested {
  /** The latest first. */
  readonly drops: readonly BoardDrop[]
  /** The board held against each rule set that prescribes a drop test; none without a drop. */
  readonly checks: readonly BoardCheckFile[]
  /** Its sizes against each rule set where no drop was filmed but clips were marked; `checks` hold them otherwise. */
  readonly sizes: readonly SizesByRules[]
}

/** A board's sizes against one rule set, as entered and as pictures show them. */
export interface SizesByRules {
  readonly rules: { readonly key: string; readonly name: string }
  readonly dimensions: readonly BuildFinding[]
  readonly sizes: BoardSizes | null
}

/** How one board feels to dogs, by its drop tests and by rides of weighed dogs. */
export interface FeltBoard {
  readonly boardId: string
  readonly feel: BoardFeel
}

/** What a board's page can be saved as. */
export const BOARD_FORMATS = ['html', 'pdf', 'json'] as const
export type BoardFormat = (typeof BOARD_FORMATS)[number]

/** The rule sets that may prescribe a drop test; `own`: the handler's, from the settings. */
export const DROP_RULES = ['uk', 'uk-old', 'fci', 'akc', 'own'] as const
export type DropRules = (typeof DROP_RULES)[number]

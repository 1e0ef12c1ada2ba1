import type { BoardCheck } from './board-check.ts'
import type { Source } from '../rules/rule-sets.ts'

/** What a board-check file (`boardcheck.json`) holds. */
export interface BoardCheckFile extends BoardCheck {
  readonly schema: 'tiphold.boardcheck/1'
  readonly program: { readonly version: string }
  readonly rules: { readonly key: string; readonly name: string; readonly source: Source }
  readonly drops: readonly {
    readonly massKg: number
    readonly massAtM: number
    readonly moved: boolean | null
    /** As `2026-05-14`; null: not known. */
    readonly day: string | null
  }[]
  /** The plank's weight that was given, kg. */
  readonly plankKg: number | null
}

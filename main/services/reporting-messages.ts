import type { BoardMaterial } from '../../analysis/progress/board-materials.ts'
import type { Board } from '../../analysis/board/board.ts'
import type { BoardFeel } from '../../analysis/board-physics/feel.ts'
import type { WeighedRide } from '../../analysis/board-physics/weighed-ride.ts'
import type { BoardCheckFile } from '../../analysis/board-physics/board-check-file.ts'
import type { Drop } from '../../analysis/drop/drop-test.ts'
import type { Attention } from '../../analysis/progress/attention.ts'
import type { Comparison } from '../../analysis/progress/compare.ts'
import type { DogReport } from '../../analysis/progress/report-parts.ts'
import type { RuleSet } from '../../analysis/rules/rule-sets.ts'
import type { Season } from '../../analysis/progress/season.ts'
import type { BoardFormat, SizesByRules } from '../contract/drops.ts'
import type { ComparisonSaved, ShowCheckAnswer } from '../contract/seasons.ts'
import type { Split, SplitGroup } from '../../analysis/progress/split.ts'
import type { LibraryRidesFile } from '../outputs/progress/library-rides.ts'
import type { SeasonFile } from '../outputs/progress/season-files.ts'
import type { ShowFile } from '../outputs/progress/show-files.ts'
import type { AskedBoard } from '../outputs/progress/show-question.ts'
import type { MarkedPicture } from './marked-pictures.ts'

/** What the reporting process is asked, once; `file` holds the rides. */
export type ToReporting =
  | { readonly kind: 'season'; readonly file: LibraryRidesFile; readonly dog: string }
  | { readonly kind: 'file'; readonly file: LibraryRidesFile; readonly dog: string; readonly name: SeasonFile }
  | { readonly kind: 'show'; readonly file: LibraryRidesFile; readonly dog: string; readonly asked: AskedBoard }
  | {
      readonly kind: 'show-file'
      readonly file: LibraryRidesFile
      readonly dog: string
      readonly asked: AskedBoard
      readonly name: ShowFile
    }
  | { readonly kind: 'attention'; readonly file: LibraryRidesFile }
  | ({ readonly kind: 'compare' } & ComparedRides)
  | ({ readonly kind: 'compare-file'; readonly format: ComparisonSaved } & ComparedRides)
  | (BoardOrder & { readonly kind: 'feel' })
  | {
      readonly kind: 'sizes'
      readonly board: Board
      readonly marked: readonly MarkedPicture[]
      readonly rules: readonly RuleSet[]
    }
  | (BoardOrder & { readonly kind: 'board'; readonly rules: readonly RuleSet[] })
  | (BoardOrder & {
      readonly kind: 'board-file'
      readonly name: string
      /** Nobody has measured its lengths. */
      readonly isAssumed: boolean
      readonly rules: RuleSet
      readonly format: BoardFormat
    })

/** Rides of two sides. */
export interface ComparedRides {
  readonly file: LibraryRidesFile
  readonly sides: readonly [SideAsked, SideAsked]
}

/** A dog by its name in the file; null: on all boards. */
export interface SideAsked {
  readonly dog: string
  readonly board: string | null
}

/** A board and its drop tests. */
interface BoardOrder {
  readonly board: Board
  /** Clips whose marks tell its sizes; its feel does not ask for them. */
  readonly marked?: readonly MarkedPicture[]
  /** Each with its day, as `2026-05-14`. */
  readonly drops: readonly (Drop & { readonly day: string })[]
  /** Rides of weighed dogs on it. */
  readonly rides: readonly WeighedRide[]
}

/** What it answers. */
export type FromReporting =
  | { readonly kind: 'season'; readonly season: SeasonNumbers }
  | { readonly kind: 'file'; readonly base64: string }
  | { readonly kind: 'show'; readonly show: ShowCheckAnswer }
  | { readonly kind: 'show-file'; readonly base64: string }
  | { readonly kind: 'attention'; readonly dogs: readonly Attention[] }
  | { readonly kind: 'compare'; readonly comparison: Comparison }
  | { readonly kind: 'compare-file'; readonly base64: string }
  | { readonly kind: 'board'; readonly checks: readonly BoardCheckFile[] }
  | { readonly kind: 'feel'; readonly feel: BoardFeel }
  | { readonly kind: 'sizes'; readonly sizes: readonly SizesByRules[] }
  | { readonly kind: 'board-file'; readonly base64: string }
  | { readonly kind: 'failed'; readonly message: string }

export interface SeasonNumbers {
  readonly season: Season
  readonly report: DogReport
  readonly splits: readonly Split[]
  readonly materials: readonly BoardMaterial[]
  readonly whole: SplitGroup
}

import type { RidesSource } from '../outputs/progress/rides-source.ts'
import type { DropRules } from '../contract/drops.ts'
import type { ShowRules } from '../contract/seasons.ts'

/** What a command line asks for. */
export type Command =
  | MeasureCommand
  | DroptestCommand
  | AddCommand
  | BackupCommand
  | RestoreCommand
  | ReportCommand
  | ShowcheckCommand
  | BoardcheckCommand
  | { readonly kind: 'doctor' }
  | { readonly kind: 'help' }
  | { readonly kind: 'version' }

export interface MeasureCommand {
  readonly kind: 'measure'
  readonly clipPath: string
  /** Absent: the program looks for the plank. */
  readonly marksPath?: string
  /** Absent: a usual board is assumed. */
  readonly boardPath?: string
  readonly outDir: string
  readonly slowMotion?: number
  /** s of real time. */
  readonly fromS?: number
  readonly toS?: number
  readonly overlay: boolean
  /** Also writes the report as PDF. */
  readonly pdf: boolean
  /** Tell the progress even where nobody watches. */
  readonly progress: boolean
}

export interface DroptestCommand {
  readonly kind: 'droptest'
  /** In the order of the command line. */
  readonly drops: readonly {
    readonly clipPath: string
    /** Absent, then for every clip: the program looks for the plank. */
    readonly marksPath?: string
    readonly massKg: number
    /** Along the plank; absent: the middle of the down contact. */
    readonly massAtM?: number
  }[]
  /** Absent: a usual board is assumed. */
  readonly boardPath?: string
  readonly outDir: string
  /** Also writes the report as PDF. */
  readonly pdf: boolean
  readonly progress: boolean
}

export interface AddCommand {
  readonly kind: 'add'
  readonly clipPaths: readonly string[]
  readonly dog: string
  readonly board: string
  /** The user's own library unless given. */
  readonly libraryFolder?: string
  readonly progress: boolean
}

export interface BackupCommand {
  readonly kind: 'backup'
  readonly outPath: string
  readonly libraryFolder?: string
}

export interface RestoreCommand {
  readonly kind: 'restore'
  readonly backupPath: string
  /** An empty folder, or one that is to be made. */
  readonly libraryFolder: string
}

export interface ReportCommand extends RidesSource {
  readonly kind: 'report'
  readonly dog: string
  readonly outDir: string
}

export interface ShowcheckCommand extends RidesSource {
  readonly kind: 'showcheck'
  readonly dog: string
  /** One of the two is given. */
  readonly board?: string
  readonly dropTimeS?: number
  readonly rules: ShowRules
  readonly outDir: string
}

export interface BoardcheckCommand {
  readonly kind: 'boardcheck'
  /** Drop-test files of one board. */
  readonly droptestPaths: readonly string[]
  readonly boardPath: string
  readonly rules: DropRules
  /** The plank's weight without its base. */
  readonly plankKg?: number
  /** Whose settings hold the handler's own rules; the user's own library unless given. */
  readonly libraryFolder?: string
  readonly outDir: string
}

/** Exit codes that scripts rely on. */
export const exitCodes = { measured: 0, wrongUsage: 2, unreadableClip: 3, nothingMeasured: 4, cancelled: 130 } as const

/** How a command ended: lines for people, and the exit code for scripts. */
export interface CommandEnd {
  readonly exitCode: number
  /** For standard output. */
  readonly lines: readonly string[]
  /** One line for standard error; null when all went well. */
  readonly complaint: string | null
}

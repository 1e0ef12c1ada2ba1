import type { BoardMaterial } from '../../analysis/progress/board-materials.ts'
import type { Attention } from '../../analysis/progress/attention.ts'
import type { DogReport } from '../../analysis/progress/report-parts.ts'
import type { Season } from '../../analysis/progress/season.ts'
import type { ShowCheck, ShowQuestion } from '../../analysis/progress/show-check.ts'
import type { ShowAnswer } from '../../analysis/progress/show-words.ts'
import type { ReviewLine } from '../../analysis/review/review-words.ts'
import type { Split, SplitGroup } from '../../analysis/progress/split.ts'

/** All that the library says of one dog's rides together. */
export interface DogSeason {
  readonly dogId: string
  readonly season: Season
  readonly report: DogReport
  readonly splits: readonly Split[]
  /** What boards behave like, and whose entry that contradicts. */
  readonly materials: readonly BoardMaterial[]
  /** The dog's filmed rides as one group. */
  readonly whole: SplitGroup
  /** One for each ride of the season, in its order. */
  readonly rides: readonly RideOfSeason[]
}

/** Where a ride of a season is found. */
export interface RideOfSeason {
  readonly rideId: string
  /** It has a film, on which each of its moments can be looked at. */
  readonly isFilmed: boolean
  /** Drawn by chance for trying out; no dog ever rode it. */
  readonly isInvented: boolean
  readonly isCorrected: boolean
  readonly title: string
  /** Comments on it, line by line. */
  readonly said: readonly ReviewLine[]
}

/** The rule sets that a show may be judged by; `own`: the handler's, from the settings. */
export const SHOW_RULES = ['uk', 'fci', 'akc', 'own'] as const
export type ShowRules = (typeof SHOW_RULES)[number]

/** How likely a dog leaves early on a board at a show. */
export interface ShowCheckAnswer {
  readonly question: ShowQuestion
  readonly check: ShowCheck
  readonly answer: ShowAnswer
  /** How long the board is taken to fall, s; null where the rides on it tell. */
  readonly fallS: number | null
}

/** The files that a season can be saved as; each says the same. */
export const SEASON_FORMATS = ['html', 'pdf', 'csv', 'json', 'rides'] as const
export type SeasonFormat = (typeof SEASON_FORMATS)[number]

/** The files that a comparison can be saved as. */
export const COMPARISON_SAVED = ['html', 'pdf', 'csv', 'json'] as const
export type ComparisonSaved = (typeof COMPARISON_SAVED)[number]

/** The files that a show check can be saved as. */
export const SHOW_SAVED = ['html', 'pdf', 'csv', 'json'] as const
export type ShowSaved = (typeof SHOW_SAVED)[number]

/** A file for the handler to save. */
export interface SavedFile {
  readonly fileName: string
  readonly mediaType: string
  readonly base64: string
}

/** A dog on its coach's page. */
export type CoachLine = Attention & { readonly dogId: string }

import { z } from 'zod'
import { BOARD_LIMITS } from '../../analysis/board/board-limits.ts'
import { TEST_WEIGHT_KG } from '../../analysis/drop/drop-test.ts'
import type { BuildPart } from '../../analysis/rules/build-check.ts'
import { ownRulesFault } from '../../analysis/rules/own-rules.ts'

/** A fall takes less than this, s: a board that comes down later passes for one that does not tip. */
export const LONGEST_FALL_S = 30

function ownLimits(part: BuildPart) {
  const { min, max } = BOARD_LIMITS[part]
  const bound = z.number().min(min).max(max).nullable()
  return z.object({ minM: bound, maxM: bound })
}

/** A rule set that the handler entered: see `analysis/rules/own-rules.ts`. */
export const ownRules = z
  .object({
    name: z.string().trim().min(1).max(40),
    lengthM: ownLimits('lengthM'),
    widthM: ownLimits('widthM'),
    pivotHeightM: ownLimits('pivotHeightM'),
    contactM: ownLimits('contactM'),
    axisBelowTopM: ownLimits('axisBelowTopM'),
    drop: z
      .object({
        massKg: z.number().min(TEST_WEIGHT_KG.min).max(TEST_WEIGHT_KG.max),
        where: z.discriminatedUnion('kind', [
          z.object({ kind: z.literal('middle-of-down-contact') }),
          z.object({ kind: z.literal('towards-exit-end') }),
          z.object({ kind: z.literal('from-exit-end'), byM: z.number().min(0).max(BOARD_LIMITS.contactM.max) }),
        ]),
        timedFrom: z.enum(['placed', 'released', 'not-said']),
        leastS: z.number().min(0).max(LONGEST_FALL_S).nullable(),
        mostS: z.number().min(0.1).max(LONGEST_FALL_S),
      })
      .nullable(),
    downAfterLanding: z.boolean(),
    refusalBeforeTip: z.boolean(),
  })
  .superRefine((own, context) => {
    const message = ownRulesFault(own)
    if (message !== null) context.addIssue({ code: 'custom', message })
  })

/** What the handler has chosen; kept in the library's settings. */
export const settings = z.object({
  units: z.enum(['metric', 'imperial']),
  theme: z.enum(['as-system', 'light', 'dark']),
  /** Size of text and controls, 1 = normal. */
  textScale: z.number().min(0.8).max(1.6),
  /** Whose rules the zones and the board are shown against; null: none, `own`: `ownRules`. */
  ruleSet: z.string().max(40).nullable(),
  /** The handler's own rules; null: none were entered. */
  ownRules: ownRules.nullable(),
  /** Names of cautions that were read and put away. */
  cautionsRead: z.array(z.string().max(60)).max(50),
  /** A new clip is measured without a press where place, board and dog are known. */
  measureOnArrival: z.boolean(),
  /** The absolute path of the folder in which new clips arrive; null: none is watched. */
  watchedFolder: z.string().min(1).max(1000).nullable(),
  /** Overlays on the picture that are switched on. */
  overlays: z.object({ plank: z.boolean(), zones: z.boolean(), paws: z.boolean(), dog: z.boolean() }),
})
export type Settings = z.infer<typeof settings>

/** Some of them: what was changed, and nothing else. */
export const changedSettings = settings.partial()
export type ChangedSettings = z.infer<typeof changedSettings>

/** The settings after some of them were changed. */
export function withChanged(before: Settings, changed: ChangedSettings): Settings {
  const named = Object.entries(changed).filter(([, value]) => value !== undefined)
  return { ...before, ...(Object.fromEntries(named) as Partial<Settings>) }
}

export const FIRST_SETTINGS: Settings = {
  units: 'metric',
  theme: 'as-system',
  textScale: 1,
  ruleSet: null,
  ownRules: null,
  cautionsRead: [],
  measureOnArrival: false,
  watchedFolder: null,
  overlays: { plank: true, zones: true, paws: true, dog: false },
}

/** Which engine does what, and why this one. */
export interface EngineLine {
  /** What it is for: "Reading clips". */
  readonly job: string
  readonly inUse: string
  readonly why: string
}

/** A library in one file. */
export interface LibraryBackup {
  readonly path: string
  readonly bytes: number
  /** Clips that lie in places of their own and are not in the file. */
  readonly clipsElsewhere: number
}

/** What a backup says that it holds. */
export interface BackupContents {
  /** ISO 8601; null where it does not say. */
  readonly madeAt: string | null
  /** Once it is unpacked. */
  readonly bytes: number
  readonly dogs: number
  readonly boards: number
  readonly clips: number
  readonly rides: number
  readonly ridesNotFilmed: number
  /** Opened packs of others. */
  readonly packs: number
}

/** A library that was restored beside the one that is open. */
export interface RestoredLibrary {
  readonly folder: string
  readonly rides: number
  readonly clips: number
}

/** Where the library lies and how full it is. */
export interface LibraryPlace {
  readonly folder: string
  readonly rides: number
  readonly clips: number
  /** Bytes of prepared pictures, which can be made anew. */
  readonly pictureBytes: number
}

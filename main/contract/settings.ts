import { z } from 'zod'

/** What the handler has chosen; kept in the library's settings. */
export const settings = z.object({
  units: z.enum(['metric', 'imperial']),
  theme: z.enum(['as-system', 'light', 'dark']),
  /** Size of text and controls, 1 = normal. */
  textScale: z.number().min(0.8).max(1.6),
  /** Whose rules the zones and the board are shown against; null: none. */
  ruleSet: z.string().max(40).nullable(),
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

/** Where the library lies and how full it is. */
export interface LibraryPlace {
  readonly folder: string
  readonly rides: number
  readonly clips: number
  /** Bytes of prepared pictures, which can be made anew. */
  readonly pictureBytes: number
}

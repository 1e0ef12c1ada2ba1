/**
 * One step from a format of the library to the next. Each function gets what the older program wrote and gives what
 * this one reads; what it leaves out stays as it is. A step must not look at anything but its input.
 */
export interface Migration {
  readonly settings?: (settings: unknown) => unknown
  readonly dogs?: (card: unknown) => unknown
  readonly boards?: (card: unknown) => unknown
  readonly clips?: (card: unknown) => unknown
  readonly rides?: (card: unknown) => unknown
  readonly noted?: (card: unknown) => unknown
  /** Big parts are brought up to date whenever they are read; their files stay as they were written. */
  readonly clipPart?: (part: unknown) => unknown
  readonly ridePart?: (part: unknown) => unknown
}

/** 1 to 2: sessions of rides, the day of the film, what a dog is trained to, earlier heights and masses. */
const sessions: Migration = {
  dogs: (dog) => ({ ...(dog as object), criterion: null, bodyDay: null, bodyBefore: [] }),
  clips: (clip) => ({ ...(clip as object), filmedOn: null }),
  rides: (ride) => ({
    ...(ride as object),
    session: { day: null, venue: '', surface: '', weather: '', handler: '', purpose: null, tags: [] },
  }),
}

/** From format 1 to 2, from 2 to 3, and so on. */
export const MIGRATIONS: readonly Migration[] = [sessions]

/** The format that a program with these migrations writes. */
export function formatAfter(migrations: readonly Migration[]): number {
  return 1 + migrations.length
}

/** Brings something of an older format up to date. */
export type Upgrade = (value: unknown, fromFormat: number) => unknown

/** All steps of one field, one after another. */
export function upgradeOf(migrations: readonly Migration[], field: keyof Migration): Upgrade {
  return (value, fromFormat) =>
    migrations.slice(fromFormat - 1).reduce((older, migration) => migration[field]?.(older) ?? older, value)
}

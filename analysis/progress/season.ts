import type { Estimate } from '../estimate.ts'
import type { LeavingVerdict, ZoneVerdict } from '../ride/ride.ts'

/** What one ride adds to a dog's season. What is null or absent is unknown. */
export interface SeasonRide {
  /** Place in the list of the dog's rides, from 0: what sentences rest on. */
  readonly index: number
  /** Days since 1970-01-01. */
  readonly day: number | null
  readonly board: string | null
  readonly purpose: 'training' | 'show' | null
  readonly surface: string | null
  /** Entered by a person and not filmed: never mixed with what was measured. */
  readonly byHand: boolean
  readonly events: Readonly<Record<string, Estimate>>
  readonly measures: Readonly<Record<string, Estimate>>
  readonly upZone: ZoneVerdict | null
  readonly downZone: ZoneVerdict | null
  readonly downAfterGround: 'yes' | 'no' | 'unsure' | null
  readonly leaving: LeavingVerdict | null
  /** Whether it paused on the plank, whether it turned back there; absent: not known. */
  readonly paused?: boolean
  readonly turnedBack?: boolean
}

/** How long after the landing a dog may be trained to stay, s. */
export const CRITERION_HOLD_S = { min: 0, max: 60 } as const

/** What a dog is trained to do at the end of the plank. */
export interface Criterion {
  readonly position: 'four-on' | '2o2o' | 'running'
  /** How long after the landing it must be held, s; 0 for a running contact. */
  readonly holdAfterGroundS: number
}

/** A dog with its rides, in the order in which they were given. */
export interface Season {
  readonly dog: string
  readonly criterion: Criterion | null
  readonly rides: readonly SeasonRide[]
}

const DAY_MS = 86_400_000

/** The mean length of a month, days: trends are told per month. */
export const DAYS_PER_MONTH = 30.4375

/**
 * A calendar day as a number.
 *
 * @param text as in `2026-05-14`
 * @returns days since 1970-01-01; null when there is no such day
 */
export function dayNumber(text: string): number | null {
  const parts = /^(\d{4})-(\d{2})-(\d{2})$/.exec(text)
  if (parts === null) return null
  const date = new Date(Date.UTC(Number(parts[1]), Number(parts[2]) - 1, Number(parts[3])))
  return date.toISOString().slice(0, 10) === text ? date.getTime() / DAY_MS : null
}

/**
 * A day as a calendar day.
 *
 * @param day days since 1970-01-01; a fraction is cut off
 * @returns as in `2026-05-14`
 */
export function dayText(day: number): string {
  return new Date(Math.floor(day) * DAY_MS).toISOString().slice(0, 10)
}

/** The rides that were filmed and measured, of all `rides`. */
export function measuredRides(rides: readonly SeasonRide[]): SeasonRide[] {
  return rides.filter(({ byHand }) => !byHand)
}

/** The names of the boards that `rides` were on, each once, the most used first. */
export function boardsOf(rides: readonly SeasonRide[]): string[] {
  const counts = new Map<string, number>()
  for (const { board } of rides) if (board !== null) counts.set(board, (counts.get(board) ?? 0) + 1)
  return [...counts].sort(([a, m], [b, n]) => n - m || (a < b ? -1 : 1)).map(([board]) => board)
}

import { z } from 'zod'
import { rideSession, type RideSession } from './sessions.ts'

/** A ride that was not filmed, as a person enters it. */
export const notedRideInput = z.object({
  dogId: z.string().min(1).max(64),
  boardId: z.string().min(1).max(64).nullable(),
  session: rideSession,
  leftEarly: z.enum(['yes', 'no', 'unknown']),
  note: z.string().max(4000),
})
export type NotedRideInput = z.infer<typeof notedRideInput>

/** A ride without its film: told by a person, measured elsewhere and read from a file, or invented for trying out. */
export interface NotedRide {
  readonly id: string
  readonly dogId: string | null
  readonly boardId: string | null
  readonly session: RideSession
  readonly note: string
  readonly origin: 'by-hand' | 'file' | 'invented'
  /** `events`, `measures`, `zones` and `leaving` as in a file of rides; of one by hand, `leaving` at most. */
  readonly facts: Readonly<Record<string, unknown>>
}

/** What a person's answer says of the leaving. */
export function factsByHand(leftEarly: NotedRideInput['leftEarly']): NotedRide['facts'] {
  if (leftEarly === 'unknown') return {}
  return { leaving: { verdict: leftEarly === 'yes' ? 'before-ground' : 'after-ground' } }
}

/** The answer that facts by hand were made of. */
export function leftEarlyOf({ facts }: Pick<NotedRide, 'facts'>): NotedRideInput['leftEarly'] {
  const verdict = (facts['leaving'] as { readonly verdict?: string } | undefined)?.verdict
  if (verdict === 'before-ground' || verdict === 'before-tip') return 'yes'
  return verdict === 'after-ground' ? 'no' : 'unknown'
}

import { z } from 'zod'
import { dayNumber } from '../../analysis/progress/season.ts'

/** A calendar day, as in `2026-05-14`. */
export const calendarDay = z.string().refine((text) => dayNumber(text) !== null, 'must be a day such as 2026-05-14')

const tag = z.string().trim().min(1).max(40)

/** When, where and what for a ride was: what a person says of it, and the day, which the film itself may tell. */
export const rideSession = z.object({
  /** The day of the ride, never that of the import; null: not known. */
  day: calendarDay.nullable(),
  venue: z.string().max(120),
  surface: z.string().max(60),
  weather: z.string().max(120),
  handler: z.string().max(80),
  purpose: z.enum(['training', 'show']).nullable(),
  tags: z.array(tag).max(20),
})
export type RideSession = z.infer<typeof rideSession>

export const NO_SESSION: RideSession = {
  day: null,
  venue: '',
  surface: '',
  weather: '',
  handler: '',
  purpose: null,
  tags: [],
}

/** What is set for many rides at once: what is absent stays as it is in each. */
export const sessionChange = z.object({
  day: calendarDay.nullable().exactOptional(),
  venue: rideSession.shape.venue.exactOptional(),
  surface: rideSession.shape.surface.exactOptional(),
  weather: rideSession.shape.weather.exactOptional(),
  handler: rideSession.shape.handler.exactOptional(),
  purpose: rideSession.shape.purpose.exactOptional(),
  addTags: z.array(tag).max(20).exactOptional(),
  dropTags: z.array(tag).max(20).exactOptional(),
})
export type SessionChange = z.infer<typeof sessionChange>

/** The session after a change; tags keep their order, each once. */
export function changedSession(session: RideSession, change: SessionChange): RideSession {
  const { addTags = [], dropTags = [], ...rest } = change
  const tags = [...new Set([...session.tags, ...addTags])].filter((one) => !dropTags.includes(one))
  return { ...session, ...rest, tags: tags.slice(0, 20) }
}

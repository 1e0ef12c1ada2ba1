import type { Estimate } from '../estimate.ts'
import type { Ride } from '../ride/ride.ts'

const BEFORE_S = 0.5
const AFTER_S = 0.6

/**
 * What of a ride a chart shows: from a moment before the dog got on to a moment after the last event.
 *
 * @param ride s; its frames bound what is shown
 * @returns s, from and to
 */
export function chartSpan(ride: Pick<Ride, 'frames' | 'events' | 'footfalls'>): readonly [number, number] {
  const times = ride.frames.ptsS
  const first = times[0] ?? 0
  const last = times.at(-1) ?? 1
  const seen = Object.values(ride.events).flatMap((event: Estimate) => (event.kind === 'measured' ? [event.value] : []))
  const ends = ride.footfalls.flatMap((step) => [step.fromS, step.toS])
  const stillOn = ride.events.left.kind === 'withheld' ? [last] : []
  const all = [...seen, ...ends, ...stillOn]
  if (all.length === 0) return [first, last]
  return [Math.max(first, Math.min(...all) - BEFORE_S), Math.min(last, Math.max(...all) + AFTER_S)]
}

import type { Ride } from '../ride/ride.ts'

/** What two rides are aligned on. */
export type StepEvent = 'tipStart' | 'grounded' | 'firstOn'

/**
 * When the aligning event happened in a ride.
 *
 * @param ride s of real time
 * @param event what is aligned on
 * @returns s; null where it was not measured
 */
export function stepMomentS({ events }: Pick<Ride, 'events'>, event: StepEvent): number | null {
  const at = events[event]
  return at.kind === 'measured' ? at.value : null
}

/**
 * The moments at which the picture of one of two rides changes, both counted from what they are aligned on.
 *
 * @param first s of real time, rising
 * @param firstAtS the aligning moment of the first
 * @param second s of real time, rising
 * @param secondAtS the aligning moment of the second
 * @returns s from the aligning moment, rising; whatever the frame rates, both rides go at the true pace on it
 */
export function commonTimesS(
  first: Float64Array,
  firstAtS: number,
  second: Float64Array,
  secondAtS: number,
): Float64Array {
  const all = [...first.map((s) => s - firstAtS), ...second.map((s) => s - secondAtS)].sort((a, b) => a - b)
  return Float64Array.from(all.filter((s, k) => k === 0 || s - all[k - 1]! > 1e-6))
}

import { quantile } from '../numeric/robust.ts'
import { curveAt } from '../ride/curve-reading.ts'
import type { Ride } from '../ride/ride.ts'

/** The fall of a board under a dog that somebody weighed. */
export interface WeighedRide {
  /** Rides of one dog share what is not known of how it moves. */
  readonly dogId: string
  readonly massKg: number
  /** From the start of the tip (10 mm) to the landing, s. */
  readonly fallS: number
  /** How fast the board turns at the start of the tip, rad/s. */
  readonly tipRateRadps: number
  /** Board angle at rest and on the ground, rad. */
  readonly restRad: number
  readonly groundRad: number
  /** The body centre from the pivot, m, in steps of `STEP_S` from the start of the tip to past the landing. */
  readonly bodyFromPivotM: readonly number[]
}

/** Between places of the body, s. */
export const STEP_S = 0.02
/** A turning speed is taken over this long to either side, s (ours). */
const RATE_SPAN_S = 0.04
/** Places of the body past the landing, s: a slower board is still under way then (ours). */
const AFTER_S = 0.6
/** Moments that are known no better than this, 1 sd, tell nothing of the board, s (ours). */
const MOST_EVENT_SD_S = 0.04
/** Falls outside these limits are no falls under a dog, s (ours). */
const FALL_S = { min: 0.15, max: 4 } as const
/** A board turns at least this fast when its end has sunk by 10 mm, rad/s. */
const LEAST_RATE_RADPS = 0.01
/** Of the angles at rest the middle counts; of those after the landing one that bounces leave alone. */
const RESTING = { before: 0.5, after: 0.75 } as const
const RADIANS = Math.PI / 180

/**
 * What a ride tells of its board, if the dog was weighed and stayed on until the landing.
 *
 * @param ride as measured or corrected: events in s, angles in deg, body in m along
 * @param dog its id, and its mass, kg
 * @param lengthM of the plank, m
 * @returns null where the fall, the angle or the body's place during it is not known well enough
 */
export function weighedRide(
  { events, frames, leaving }: Pick<Ride, 'events' | 'frames' | 'leaving'>,
  dog: { readonly id: string; readonly massKg: number },
  lengthM: number,
): WeighedRide | null {
  const { tipStart, grounded } = events
  if (leaving.verdict !== 'after-ground' || tipStart.kind !== 'measured' || grounded.kind !== 'measured') return null
  if (Math.max(tipStart.sd, grounded.sd) > MOST_EVENT_SD_S) return null
  const fallS = grounded.value - tipStart.value
  if (!(fallS > FALL_S.min && fallS < FALL_S.max)) return null
  const ptsS = Float64Array.from(frames.ptsS)
  const known = (curve: readonly (number | null)[], scale: number) =>
    Float64Array.from(curve, (value) => (value === null ? NaN : value * scale))
  const angleRad = known(frames.boardAngleDeg, RADIANS)
  const bodyM = known(frames.bodyM, 1)
  const between = (fromS: number, toS: number) =>
    angleRad.filter((angle, k) => !Number.isNaN(angle) && ptsS[k]! >= fromS && ptsS[k]! <= toS)
  const before = between(-Infinity, tipStart.value - 2 * RATE_SPAN_S)
  const after = between(grounded.value, grounded.value + AFTER_S)
  if (before.length === 0 || after.length === 0) return null
  const rate =
    (curveAt(ptsS, angleRad, tipStart.value + RATE_SPAN_S) - curveAt(ptsS, angleRad, tipStart.value - RATE_SPAN_S)) /
    (2 * RATE_SPAN_S)
  const bodyFromPivotM: number[] = []
  for (let sinceS = 0; sinceS < fallS + AFTER_S; sinceS += STEP_S) {
    const placeM = curveAt(ptsS, bodyM, tipStart.value + sinceS) - lengthM / 2
    if (Number.isNaN(placeM)) {
      if (sinceS < fallS) return null
      break
    }
    bodyFromPivotM.push(placeM)
  }
  if (Number.isNaN(rate)) return null
  return {
    dogId: dog.id,
    massKg: dog.massKg,
    fallS,
    tipRateRadps: Math.max(rate, LEAST_RATE_RADPS),
    restRad: quantile(before, RESTING.before),
    groundRad: quantile(after, RESTING.after),
    bodyFromPivotM,
  }
}

import { type Corrections, NO_CORRECTIONS } from './corrections.ts'
import type { RideFootfall } from './ride.ts'

/** Two measurements of one paw contact share at least this much of the shorter one's time ... */
const SHARED_TIME = 0.5
/** ... and lie no further apart than this along the plank, m: less than the step from one paw to the next. */
const SAME_PLACE_M = 0.15

/**
 * What a person set by hand over a ride, for the same ride measured anew: moments and zones stay as they were set, and
 * paw contacts are found again by time and place.
 *
 * @param corrections over `before`
 * @param before footfalls of the earlier measurement, s and m along
 * @param now footfalls of the new one, with the same timeline and direction
 * @returns corrections over `now`. A contact that was set by hand and is not found again stays as an added one; one
 *   that was struck out and is not found again needs no striking out; an added one that is now measured replaces it
 */
export function carriedCorrections(
  corrections: Corrections,
  before: readonly RideFootfall[],
  now: readonly RideFootfall[],
): Corrections {
  const taken = new Set<number>()
  const again = (paw: Contact | undefined): number | null => {
    if (paw === undefined) return null
    const index = sameContact(paw, now, taken)
    if (index !== null) taken.add(index)
    return index
  }
  const struckOut = corrections.footfalls.struckOut
    .map((index) => again(before[index]))
    .filter((index) => index !== null)
  const set = [
    ...corrections.footfalls.changed.map(({ index, footfall }) => ({ footfall, now: again(before[index]) })),
    ...corrections.footfalls.added.map((footfall) => ({ footfall, now: again(footfall) })),
  ]
  return {
    events: corrections.events,
    zones: corrections.zones,
    footfalls: {
      struckOut,
      changed: set.flatMap((one) => (one.now === null ? [] : [{ index: one.now, footfall: one.footfall }])),
      added: set.flatMap((one) => (one.now === null ? [one.footfall] : [])),
    },
  }
}

/** A measurement that corrections are laid over. */
export interface CorrectedView {
  readonly slowMotionFactor: number
  /** On which side of the picture the exit end lies. */
  readonly exitSide: 1 | -1
  /** s and m along. */
  readonly footfalls: readonly RideFootfall[]
}

/**
 * What a person set by hand over a ride, once its clip was measured again: corrections speak of times and of places from
 * the entry end, and with another timeline or direction they are void.
 *
 * @param corrections over `before`; @param before the earlier measurement; @param now the new one
 * @returns corrections over `now`
 */
export function correctionsMeasuredAgain(
  corrections: Corrections,
  before: CorrectedView,
  now: CorrectedView,
): Corrections {
  const isSameView = before.slowMotionFactor === now.slowMotionFactor && before.exitSide === now.exitSide
  return isSameView ? carriedCorrections(corrections, before.footfalls, now.footfalls) : NO_CORRECTIONS
}

type Contact = Pick<RideFootfall, 'alongM' | 'fromS' | 'toS'>

/** Index of the footfall not yet taken that is most likely the same contact as `paw`; null if there is none. */
function sameContact(paw: Contact, footfalls: readonly RideFootfall[], taken: ReadonlySet<number>): number | null {
  let best: { index: number; sharedS: number } | null = null
  for (const [index, other] of footfalls.entries()) {
    if (taken.has(index) || Math.abs(other.alongM - paw.alongM) > SAME_PLACE_M) continue
    const sharedS = Math.min(other.toS, paw.toS) - Math.max(other.fromS, paw.fromS)
    const shorterS = Math.min(other.toS - other.fromS, paw.toS - paw.fromS)
    if (sharedS <= 0 || sharedS < SHARED_TIME * shorterS) continue
    if (best === null || sharedS > best.sharedS) best = { index, sharedS }
  }
  return best?.index ?? null
}

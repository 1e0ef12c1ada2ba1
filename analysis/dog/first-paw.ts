import { LEAST_SHARE, placeIn, stepAt, type PawOdds } from './paw-odds.ts'
import { STEP_S } from './paw-picture.ts'

/** How long before the first touch that was seen another may have gone unseen, s. */
const BEFORE_S = 0.6
/** The first paw comes down no further up the plank, m. */
const FURTHEST_M = 0.7
/** A paw that moves less than this in this many steps lingers: a swinging one is several times as fast (2 m/s). */
const LINGER_STEPS = 6
const LINGER_M = 0.2
/** Earlier by less than this is the touch that was seen, s. */
const SAME_S = 0.06
/** How well the beginning of lingering tells the touch, 1 sd, s (our judgement). */
const LINGER_SD_S = 0.04

/**
 * When the first paw of a stay must have touched, if its touch was not seen: the lead paw lingers at the entry end
 * before the first touch that was.
 *
 * @param odds of the stretch
 * @param seenS first touch that was seen, s
 * @returns time and 1 sd, s; null when the lead paw came straight to that touch
 */
export function unseenFirstPaw(odds: PawOdds, seenS: number): { atS: number; sdS: number } | null {
  const last = Math.floor(stepAt(odds, seenS - SAME_S)) - LINGER_STEPS
  for (let step = Math.ceil(stepAt(odds, seenS - BEFORE_S)); step <= last; step++) {
    if (lingersFrom(odds, step)) return { atS: odds.fromS + step * STEP_S, sdS: LINGER_SD_S }
  }
  return null
}

function lingersFrom(odds: PawOdds, step: number): boolean {
  const places = [0, LINGER_STEPS / 2, LINGER_STEPS].map((on) => placeIn(odds.lead, step + on))
  const alongM = places.map((place) => place.alongM)
  return (
    places.every(({ share }) => share > LEAST_SHARE) &&
    alongM.every((m) => m > 0 && m < FURTHEST_M) &&
    Math.max(...alongM) - Math.min(...alongM) < LINGER_M
  )
}

import { median } from '../numeric/robust.ts'
import type { Planted } from './planted.ts'

/** A hind paw is set down about where a front paw stood, no further away than this, m. */
const PRINT_M = 0.17
/** ... and within this time after it, s. */
const LONGEST_LAG_S = 1
/** A front paw that is set down first so near to the entry end may be the first, m. */
const LEAP_M = 0.6
/** Earlier by less than this is the same paw, s. */
const SAME_S = 0.06

/**
 * When the first paw of a stay must have touched, if it was not seen: a dog's hind paws step about where its front paws
 * stood before (common practice, no source), so a hind paw at the entry end without a front paw before it tells of one,
 * as much earlier as in the ride's other steps.
 *
 * @param stay standing paws of one crossing, in order of time
 * @returns time and 1 sd, s; null when the first paw was seen, or too few steps tell
 */
export function unseenFirstPaw(stay: readonly Planted[]): { atS: number; sdS: number } | null {
  const firstS = stay[0]!.fromS
  const hind = stay.find((p) => p.limb === 'hind')
  if (hind === undefined || printOf(hind, stay) !== null) return null
  const lags = stay
    .filter((p) => p.limb === 'hind')
    .flatMap((p) => {
      const print = printOf(p, stay)
      return print === null ? [] : [p.fromS - print.fromS]
    })
  if (lags.length < 2) return null
  const lagS = median(lags)
  const scatterS = 1.48 * median(lags.map((lag) => Math.abs(lag - lagS)))
  const atS = hind.fromS - lagS
  if (atS > firstS - SAME_S) return null
  // A dog that leaps onto the plank sets its hind paws down where no front paw has been.
  const leapt = stay.some((p) => p.limb === 'front' && p.fromS < hind.fromS && p.seenM < LEAP_M)
  return leapt ? { atS: firstS, sdS: 0.5 * (firstS - atS) } : { atS, sdS: Math.hypot(scatterS, 0.3 * lagS) }
}

/** The front paw into whose print a hind paw stepped: the last one that came down near there before it. */
function printOf(hind: Planted, stay: readonly Planted[]): Planted | null {
  return stay.reduce<Planted | null>((best, p) => {
    const lagS = hind.fromS - p.fromS
    const near = Math.abs(p.seenM - hind.seenM) < PRINT_M && lagS > 0 && lagS < LONGEST_LAG_S
    return p.limb === 'front' && near && (best === null || p.fromS > best.fromS) ? p : best
  }, null)
}

import { CLEAR, type Planted } from './planted.ts'

/** Longer than this no paw is off the plank within one crossing, s: the longest leap along it lasts less. */
const LONGEST_FLIGHT_S = 0.6
/** Less standing than this, all paws together, is no crossing, s of certain touch. */
const LEAST_STANDING_S = 0.35
/** A dog gets on before the pivot; who is seen so early in the stretch may have got on before it, s. */
const FROM_THE_START_S = 0.1
const GETTING_ON_S = 0.5

/**
 * Groups standing paws into stays on the plank.
 *
 * @param paws in order of time
 * @param lengthM of the plank
 * @param fromS beginning of the stretch
 * @returns one list a stay, in order of time; what stands too short, nowhere clearly or came from nowhere is left out
 */
export function staysOf(paws: readonly Planted[], lengthM: number, fromS: number): Planted[][] {
  const stays: Planted[][] = []
  let endS = -Infinity
  for (const paw of paws) {
    if (paw.fromS - endS > LONGEST_FLIGHT_S) stays.push([])
    stays[stays.length - 1]!.push(paw)
    endS = Math.max(endS, paw.toS)
  }
  return stays.filter((stay) => isCrossing(stay, lengthM, fromS))
}

function isCrossing(stay: readonly Planted[], lengthM: number, fromS: number): boolean {
  const standingS = stay.reduce((sum, p) => sum + (p.toS - p.fromS) * p.confidence, 0)
  const onS = stay[0]!.fromS
  const gotOn = stay.some((p) => p.fromS < onS + GETTING_ON_S && p.seenM < lengthM / 2)
  return (
    stay.length > 1 &&
    standingS > LEAST_STANDING_S &&
    stay.some((p) => p.confidence > CLEAR) &&
    (gotOn || onS < fromS + FROM_THE_START_S)
  )
}

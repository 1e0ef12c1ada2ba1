import type { Planted } from './planted.ts'
import type { Strip } from './strip.ts'

/**
 * So far beyond the pivot 2 kg outweigh what holds the entry end of an ordinary board down (up to 10 Nm), and turn the
 * board by more than a degree within half a second.
 */
const OUTWEIGHS_M = 0.8
const AT_REST_RAD = 0.017
const LEAST_S = 0.5

/**
 * Tells paws that no dog can have: they stand well beyond the pivot, and the board rests on its entry end all the same.
 * A background that was learnt with the dog in it shows such paws where the dog stood later.
 *
 * @param stay paws of one stay, m along and s
 * @param strips of the stretch, for the board's angle, rad
 * @param lengthM of the plank, m
 * @returns true when the stay is impossible; false also where the board was not followed
 */
export function isPhantom(stay: readonly Planted[], strips: readonly (Strip | null)[], lengthM: number): boolean {
  const onS = Math.min(...stay.map((paw) => paw.fromS))
  const offS = Math.max(...stay.map((paw) => paw.toS))
  if (offS - onS < LEAST_S || stay.some((paw) => paw.seenM < lengthM / 2 + OUTWEIGHS_M)) return false
  const angles = strips.flatMap((s) => (s !== null && s.ptsS >= onS && s.ptsS <= offS ? [s.angleRad] : []))
  return angles.length > 0 && Math.max(...angles) < 0 && Math.max(...angles) - Math.min(...angles) < AT_REST_RAD
}

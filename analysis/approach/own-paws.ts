import type { DogLikeness } from '../silhouette/dog-likeness.ts'
import { AHEAD_M, PLACE_COLUMNS } from '../silhouette/placed-look.ts'
import type { BodyPath } from './body-path.ts'
import type { GroundPaw } from './ground-paws.ts'

/** A dog reaches as far from its centre as it is seen in this share of frames, and a step further, m. */
const REACH_SHARE = 0.25
const STEP_M = 0.15
/** Paws of one dog that stand at the same time lie this far aside of one another, at most, and more by the metre between them. */
const TRACK_M = 0.25
const TURNED = 0.6

/**
 * The paws that can be the dog's own: below its body when they stand, and not far behind another one that stands then.
 * What is higher up, as a belly or a raised leg, seems to stand further from the camera.
 *
 * @param paws found on the ground
 * @param path of the body
 * @param dog what it looks like
 * @returns those that are left
 */
export function ownPaws(paws: readonly GroundPaw[], path: BodyPath, { shape }: DogLikeness): readonly GroundPaw[] {
  const seen = AHEAD_M.filter((_, column) => {
    for (let i = column; i < shape.length; i += PLACE_COLUMNS) if (shape[i]! > REACH_SHARE) return true
    return false
  })
  const [fromM, toM] = [Math.min(...seen) - STEP_M, Math.max(...seen) + STEP_M]
  const below = paws.filter(({ aheadM, fromS, toS }) => {
    const bodyM = bodyAt(path, (fromS + toS) / 2)
    return aheadM - bodyM > fromM && aheadM - bodyM < toM
  })
  return below.filter((paw) => !below.some((other) => isFarBehind(paw, other)))
}

function isFarBehind(paw: GroundPaw, other: GroundPaw): boolean {
  const isTogether = other.fromS < paw.toS && other.toS > paw.fromS
  const roomM = TRACK_M + TURNED * Math.abs(paw.aheadM - other.aheadM)
  return isTogether && paw.asideM < other.asideM - roomM
}

/** The body's place at a time, m; that of the nearest look. */
function bodyAt({ ptsS, aheadM }: BodyPath, atS: number): number {
  let best = 0
  for (let k = 1; k < ptsS.length; k++) if (Math.abs(ptsS[k]! - atS) < Math.abs(ptsS[best]! - atS)) best = k
  return aheadM[best]!
}

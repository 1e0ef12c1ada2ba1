import type { Outline } from './outline.ts'

/** An outline holds for frames no further from its own than this, s: between the looks of fast clips. */
const HOLDS_S = 0.006

/**
 * The outlines of looks for each frame of a ride: fast clips have more frames than looks.
 *
 * @param outlines one a look
 * @param lookPtsS times of the looks, s, rising
 * @param ptsS times of the frames, s, rising
 * @returns one a frame: that of the nearest look; null where it has none or is too far
 * @example outlinesOnFrames([[0, 0, 9, 0, 9, 9], null], [1, 1.008], [1, 1.004, 1.008]) // [[0, 0, 9, 0, 9, 9], [0, 0, 9, 0, 9, 9], null]
 */
export function outlinesOnFrames(
  outlines: readonly (Outline | null)[],
  lookPtsS: ArrayLike<number>,
  ptsS: ArrayLike<number>,
): (Outline | null)[] {
  let near = 0
  return Array.from(ptsS, (atS) => {
    while (near + 1 < lookPtsS.length && Math.abs(lookPtsS[near + 1]! - atS) < Math.abs(lookPtsS[near]! - atS)) near++
    return Math.abs((lookPtsS[near] ?? Infinity) - atS) < HOLDS_S ? (outlines[near] ?? null) : null
  })
}

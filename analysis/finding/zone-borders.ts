import type { Line } from './plank-edges.ts'
import type { ScenePicture } from './scene-picture.ts'

/** A border is looked for this share of the plank's length around where it should be. */
const REACH = 0.06
/** Colours are averaged over this share of the length on either side. */
const SIDE = 0.035
/** Zone and middle differ by more than this, grey levels. */
const LEAST_STEP = 15

/**
 * Where the colour of the near face changes most, near the place where a zone should end.
 *
 * @param picture with the plank in it
 * @param face line along the middle of the near face, decoded px
 * @param expectedColumn where the zone should end, decoded px
 * @param length of the plank in columns
 * @returns the column, to a part of a pixel; null where no clear change is near
 */
export function findZoneBorder(
  picture: ScenePicture,
  face: Line,
  expectedColumn: number,
  length: number,
): number | null {
  const reach = Math.round(REACH * length)
  const side = Math.max(3, Math.round(SIDE * length))
  const middle = Math.round(expectedColumn)
  const steps = Array.from({ length: 2 * reach + 1 }, (_, k) => colourStep(picture, face, middle - reach + k, side))
  const best = steps.indexOf(Math.max(...steps))
  if (best <= 0 || best >= steps.length - 1 || steps[best]! < LEAST_STEP) return null
  const [before, peak, after] = [steps[best - 1]!, steps[best]!, steps[best + 1]!]
  const bend = before - 2 * peak + after
  const part = bend < 0 ? (0.5 * (before - after)) / bend : 0
  // A step between two pixels peaks at the left one of them, half a pixel early.
  return middle - reach + best + part + 0.5
}

/** Difference of the mean colours left of and including a column, and right of it. */
function colourStep(picture: ScenePicture, face: Line, column: number, side: number): number {
  const sum = [0, 0, 0]
  for (let k = 0; k < side; k++) {
    const left = colourAt(picture, face, column - k)
    const right = colourAt(picture, face, column + 1 + k)
    for (let c = 0; c < 3; c++) sum[c]! += (right[c]! - left[c]!) / side
  }
  return Math.hypot(...sum)
}

function colourAt({ y, u, v, widthPx, heightPx }: ScenePicture, face: Line, column: number): [number, number, number] {
  const x = Math.min(widthPx - 1, Math.max(0, column))
  const row = Math.min(heightPx - 1, Math.max(0, Math.round(face.atZero + face.slope * x)))
  const j = (row >> 1) * (widthPx >> 1) + (x >> 1)
  return [y[row * widthPx + x]!, u[j]!, v[j]!]
}

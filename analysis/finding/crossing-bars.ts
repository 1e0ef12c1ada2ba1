import { findBars, type Bar } from './bars.ts'
import { evenlySpread } from '../numeric/evenly-spread.ts'
import type { ScenePicture } from './scene-picture.ts'

/** The same plank at rest and landed, as two bars that cross in its middle. */
export interface CrossingBars {
  readonly rest: Bar
  readonly landed: Bar
  /** Which of the pictures shows it landed. */
  readonly landedAt: number
}

/** The pivot is the middle of both bars, but perspective and hidden ends shift it, share of the length. */
const OFF_MIDDLE = 0.14
/** Perspective makes one bar shorter than the other. */
const LEAST_RATIO = 0.75
/** Share of the picture's width that a plank worth measuring fills. */
const LEAST_LENGTH = 0.25
/** Bars are looked for in so many of the pictures. */
const MOST_TRIED = 16

/**
 * Finds the plank by its own motion: where it lay before and where it lies now are two thin bars that cross in the
 * middle of both. Nothing else in a field turns like that, and a dog is too thick for a bar.
 *
 * @param before the scene with the board at rest
 * @param pictures of later times, the same view, any order; the one in which both bars show best counts
 * @param changes map of what differs in a picture from `before`, 0 to 1
 * @returns null where no such pair is seen, for instance when the plank never tips or the camera moves
 */
export function findCrossingBars(
  before: ScenePicture,
  pictures: readonly ScenePicture[],
  changes: (picture: ScenePicture) => Float32Array,
): CrossingBars | null {
  let best: { rising: Bar; falling: Bar; score: number; at: number } | null = null
  for (const at of evenlySpread([...pictures.keys()], MOST_TRIED)) {
    const map = changes(pictures[at]!)
    const rising = findBars(map, before, -1)
    const falling = findBars(map, before, 1)
    for (const one of rising) {
      for (const other of falling) {
        const score = Math.min(one.score, other.score) + 0.3 * Math.max(one.score, other.score)
        if ((best === null || score > best.score) && isOnePlank(one, other, before.widthPx))
          best = { rising: one, falling: other, score, at }
      }
    }
  }
  if (best === null) return null
  const { rising, falling, at } = best
  // The resting plank stands out in the picture before, the landed one in that after.
  const now = pictures[at]!
  const riseRests = contrast(before, rising) + contrast(now, falling)
  const fallRests = contrast(before, falling) + contrast(now, rising)
  return riseRests >= fallRests
    ? { rest: rising, landed: falling, landedAt: at }
    : { rest: falling, landed: rising, landedAt: at }
}

function isOnePlank(rising: Bar, falling: Bar, widthPx: number): boolean {
  const lengths = [rising, falling].map((bar) => bar.toColumn - bar.fromColumn)
  const [shorter, longer] = [Math.min(...lengths), Math.max(...lengths)]
  if (longer < LEAST_LENGTH * widthPx || shorter < LEAST_RATIO * longer) return false
  const crossing = (falling.atZero - rising.atZero) / (rising.slope - falling.slope)
  return [rising, falling].every((bar) => {
    const middle = (bar.fromColumn + bar.toColumn) / 2
    return Math.abs(crossing - middle) < OFF_MIDDLE * (bar.toColumn - bar.fromColumn)
  })
}

/** How much a bar differs from what lies right beside it, grey levels. */
function contrast({ y, widthPx, heightPx }: ScenePicture, bar: Bar): number {
  const beside = 0.02 * widthPx
  const at = (row: number, column: number) =>
    y[Math.min(heightPx - 1, Math.max(0, Math.round(row))) * widthPx + column]!
  let sum = 0
  let count = 0
  for (let column = Math.ceil(bar.fromColumn); column <= bar.toColumn; column++) {
    const row = bar.atZero + bar.slope * column
    const on = at(row, column)
    sum += Math.min(Math.abs(on - at(row - beside, column)), Math.abs(on - at(row + beside, column)))
    count++
  }
  return count === 0 ? 0 : sum / count
}

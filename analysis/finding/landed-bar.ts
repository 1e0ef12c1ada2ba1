import { findBars } from './bars.ts'
import type { CrossingBars } from './crossing-bars.ts'
import { type PlankOutlineSeen, seeOutline } from './plank-edges.ts'
import { difference, type ScenePicture } from './scene-picture.ts'

/** The plank where it has turned farthest. */
export interface LandedPlank {
  readonly outline: PlankOutlineSeen
  /** Which of the pictures shows it best. */
  readonly at: number
  /** All pictures in which it seems to lie there, in their order. */
  readonly lyingAt: readonly number[]
}

/** Less of a bar than this share of the best one is a bar with a dog on it. */
const LEAST_SCORE_SHARE = 0.6
/** Slopes this close are one place: the plank lies. */
const SAME_SLOPE = 0.012
/** Bars pass this close to the crossing, share of the plank's length. */
const PASSAGE = 0.03

/**
 * Finds the picture in which the plank has landed: there it has turned farthest. Of several alike the clearest counts.
 *
 * @param before the scene with the board at rest
 * @param pictures of later times, the same view, any order
 * @param bars where the plank rests, and where it was seen turned
 * @param changes map of what differs in a picture from `before`, 0 to 1
 * @returns null where its edges cannot be made out
 */
export function findLanded(
  before: ScenePicture,
  pictures: readonly ScenePicture[],
  bars: CrossingBars,
  changes: (picture: ScenePicture) => Float32Array,
): LandedPlank | null {
  const { rest, landed } = bars
  const column = (landed.atZero - rest.atZero) / (rest.slope - landed.slope)
  const length = rest.toColumn - rest.fromColumn
  const through = { column, row: rest.atZero + rest.slope * column, within: PASSAGE * length }
  const direction = rest.slope < 0 ? 1 : -1
  const turned = pictures.flatMap((picture, at) => {
    const levels = difference(picture, before)
    const [bar] = findBars(changes(picture), before, direction, through)
    if (bar === undefined || bar.score < LEAST_SCORE_SHARE * landed.score) return []
    const outline = seeOutline(levels, before, bar)
    return outline === null ? [] : [{ at, outline, score: bar.score, slope: Math.abs(outline.lower.slope) }]
  })
  if (turned.length === 0) return null
  const steepest = Math.max(...turned.map(({ slope }) => slope))
  const lying = turned.filter(({ slope }) => slope > steepest - SAME_SLOPE)
  const { at, outline } = lying.reduce((a, b) => (b.score > a.score ? b : a))
  return { at, outline, lyingAt: lying.map((one) => one.at) }
}

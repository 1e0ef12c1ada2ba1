import { leastSquares } from '../numeric/least-squares.ts'
import { acrossProfile, type AcrossProfile, type RowSpan } from './across-profile.ts'
import { type Expected, type Faces, LayersProblem } from './layers-problem.ts'
import { aboveOf, type PlankStrip, rowAt } from './plank-strip.ts'

/** What a stretch of the plank should look like across, all m. */
export interface ExpectedLayers {
  /** The near top edge lies within this of where the strip has it. */
  readonly reachM: number
  /** Height of the top face as seen (0 or less: not seen), of the near face and of the underside as seen, each with 1 sd. */
  readonly topM: Expected
  readonly thicknessM: Expected
  readonly underM: Expected
}

/** One edge along a stretch. */
export interface EdgeAcross {
  readonly aboveM: number
  readonly sdM: number
}

/** The long edges of the plank in one stretch; null for one that does not stand out or is not there. */
export interface LayersSeen {
  /** Far edge of the top face. */
  readonly farTop: EdgeAcross | null
  readonly nearTop: EdgeAcross | null
  readonly nearLow: EdgeAcross | null
}

/** The near top edge is tried at places so many rows apart, and the likeliest of them are followed. */
const TRIED_EVERY_ROWS = 2
const FOLLOWED = 3
/** A face less high than this is not told from blur, rows. */
const LEAST_FACE_ROWS = 1.5
/** Another face must explain so much, as a sum of squares. */
const FACE_WORTH = 12
/** Where another choice of faces explains nearly as much, only edges that lie in the same place in both are handed on. */
const AMBIGUOUS = 15
const SAME_EDGE_ROWS = 2
/** An edge that is known no better is not handed on, rows; and none is known better than the other. */
const MOST_SD_ROWS = 2.5
const LEAST_SD_ROWS = 0.3
/** What surely lies beside the plank is looked at so far, m. */
const BESIDE_M = 0.035
const MARGIN_M = 0.005
const SPAN_ROWS = 4

/**
 * Where the plank's long edges lie in a stretch of a straightened picture: from below what was behind, perhaps the
 * underside, the near face, perhaps the top face, what was behind. Edges, blur and colours are fitted to the stretch's
 * mean colours row by row (variable projection, Golub and Pereyra 1973).
 *
 * @param strip straightened picture
 * @param along the stretch, m from and to; all of one colour
 * @param expected what the camera makes one expect there
 * @returns null where the stretch is hidden or outside the picture
 */
export function seeLayers(
  strip: PlankStrip,
  along: readonly [number, number],
  expected: ExpectedLayers,
): LayersSeen | null {
  const { reachM, topM, thicknessM, underM } = expected
  const besideRows = Math.round(BESIDE_M / strip.rowM)
  const overM = reachM + Math.max(0, topM[0] + topM[1]) + MARGIN_M
  const underM0 = -reachM - thicknessM[0] - thicknessM[1] - Math.max(0, underM[0]) - MARGIN_M
  const overRow = Math.min(strip.rows - 1, Math.round(rowAt(strip, overM)))
  const underRow = Math.max(1, Math.round(rowAt(strip, underM0)))
  const over: RowSpan = [overRow, Math.min(strip.rows, overRow + besideRows)]
  const under: RowSpan = [Math.max(0, underRow - besideRows), underRow]
  const profile = acrossProfile(strip, along, over, under)
  if (profile === null) return null
  const span: RowSpan = [Math.max(0, underRow - SPAN_ROWS), Math.min(strip.rows, overRow + SPAN_ROWS)]
  const fits = facesPossible(expected, strip.rowM).map((faces) => fitFaces(profile, span, strip, expected, faces))
  const [best] = fits.sort((a, b) => a.cost - b.cost) as [FacesFit, ...FacesFit[]]
  const likely = fits.filter(({ cost }) => cost < best.cost + AMBIGUOUS * best.noise)
  const sameM = SAME_EDGE_ROWS * strip.rowM
  const agreed = (of: (seen: LayersSeen) => EdgeAcross | null): EdgeAcross | null => {
    const edge = of(best.seen)
    if (edge === null) return null
    const isSame = (other: EdgeAcross | null) => other !== null && Math.abs(other.aboveM - edge.aboveM) <= sameM
    return likely.every(({ seen }) => isSame(of(seen))) ? edge : null
  }
  return {
    farTop: agreed((seen) => seen.farTop),
    nearTop: agreed((seen) => seen.nearTop),
    nearLow: agreed((seen) => seen.nearLow),
  }
}

interface FacesFit {
  readonly cost: number
  /** How much larger the residuals are than they should be, as a variance; at least 1. */
  readonly noise: number
  readonly seen: LayersSeen
}

function facesPossible({ topM, underM }: ExpectedLayers, rowM: number): Faces[] {
  const options = ([m, sdM]: Expected) =>
    [true, false].filter((is) => (is ? m + 2 * sdM > LEAST_FACE_ROWS * rowM : m - 2 * sdM < LEAST_FACE_ROWS * rowM))
  return options(topM).flatMap((top) => options(underM).map((under) => ({ top, under })))
}

function fitFaces(
  profile: AcrossProfile,
  span: RowSpan,
  strip: PlankStrip,
  { reachM, topM, thicknessM, underM }: ExpectedLayers,
  faces: Faces,
): FacesFit {
  const inRows = ([m, sdM]: Expected): Expected => [m / strip.rowM, sdM / strip.rowM]
  const problem = new LayersProblem(profile, span, faces, [inRows(thicknessM), inRows(topM), inRows(underM)])
  const expectedRow = rowAt(strip, 0)
  const reachRows = reachM / strip.rowM
  const residuals = new Float64Array(problem.residualCount)
  const tries = Math.ceil(reachRows / TRIED_EVERY_ROWS)
  const starts = Array.from({ length: 2 * tries + 1 }, (_, k) => {
    const start = problem.start(expectedRow + (k - tries) * TRIED_EVERY_ROWS, LEAST_FACE_ROWS)
    problem.residuals(start, residuals)
    return { start, cost: residuals.reduce((sum, one) => sum + one * one, 0) }
  })
  const best = starts
    .sort((a, b) => a.cost - b.cost)
    .slice(0, FOLLOWED)
    .map(({ start }) => leastSquares(problem, start, { maxIterations: 10, tolerance: 2e-2 }))
    .reduce((a, b) => (b.sumOfSquares < a.sumOfSquares ? b : a))
  const nearRow = best.parameters[0]!
  const [thickness, top] = problem.heights(best.parameters)
  const isAstray = Math.abs(nearRow - expectedRow) > reachRows + TRIED_EVERY_ROWS
  const sdOf = problem.sdFrom(best.parameters, best.sumOfSquares)
  const edge = (row: number, weights: readonly number[]): EdgeAcross | null => {
    const sdRows = sdOf(weights)
    if (isAstray || !(sdRows < MOST_SD_ROWS)) return null
    return { aboveM: aboveOf(strip, row), sdM: Math.max(LEAST_SD_ROWS, sdRows) * strip.rowM }
  }
  return {
    noise: Math.max(1, best.sumOfSquares / (3 * (span[1] - span[0]))),
    cost: best.sumOfSquares + FACE_WORTH * (Number(faces.top) + Number(faces.under)),
    seen: {
      nearTop: edge(nearRow, [1]),
      nearLow: edge(nearRow - thickness, [1, -1]),
      farTop: faces.top ? edge(nearRow + top, [1, 0, 0, 1]) : null,
    },
  }
}

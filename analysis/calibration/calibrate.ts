import type { Board } from '../board/board.ts'
import type { Marks } from '../board/marks.ts'
import type { LeastSquaresFit } from '../numeric/least-squares.ts'
import { calibrationOf } from './calibration-of-fit.ts'
import { CalibrationProblem } from './calibration-problem.ts'
import { faultAt, type MarkFault, plainFault } from './mark-faults.ts'
import type { MarkPoint } from './mark-points.ts'
import type { CalibrationOptions, CalibrationOutcome, PictureSize } from './seesaw-camera.ts'

/** A click this many sd away from where the other points put it is a mistake, not noise. */
const MISTAKE_SD = 5.5
/** A sum of squares this many sd above its mean (as a normal number) is more than noise. */
const STRAIN_SD = 5

/**
 * Camera, board build and both resting angles from the clicked points, the board's known lengths and what is
 * generally known of phones, hands and ground.
 *
 * The most probable pose by Levenberg-Marquardt from several starts, the rest of the posterior by Laplace's
 * approximation. An end rests on its lower edge; the two ends' grounds are level within a few cm, which is what tells
 * a tilted camera from a tilted seesaw. Nothing told of the camera between the two marked
 * frames, it may have drifted or panned.
 *
 * @param board lengths in m
 * @param marks clicked points, full-resolution image px, top edge nearest the camera; the grounded ones may be missing
 * @param picture size of the displayed picture, px
 * @param options click noise, drift between the marked frames, seed of the draws
 * @returns the calibration, or `impossible` with one sentence that names the point that is wrong
 */
export function calibrate(
  board: Board,
  marks: Marks,
  picture: PictureSize,
  options: CalibrationOptions = {},
): CalibrationOutcome {
  const problem = new CalibrationProblem({ board, marks, picture, options })
  const fault = plainFault(problem.points, picture, options.groundedShiftSdPx === undefined)
  if (fault !== null) return { kind: 'impossible', ...fault }
  const fit = problem.solve()
  const mistake = mistakenClick(problem, fit)
  if (mistake !== null) return { kind: 'impossible', ...mistake }
  return { kind: 'calibrated', calibration: calibrationOf(problem, fit) }
}

function mistakenClick(problem: CalibrationProblem, { residuals, sumOfSquares }: LeastSquaresFit): MarkFault | null {
  const { points } = problem
  const sizesSd = points.map((_, k) => Math.hypot(residuals[2 * k]!, residuals[2 * k + 1]!))
  // Cheap gate: true clicks rarely strain the fit more than this, and then the careful look below decides.
  if (Math.max(...sizesSd) < 2 && sumOfSquares < 2 * points.length) return null
  const judged = points.map((point, index) => ({ point, ...problem.leftOut(index) }))
  const worst = judged.reduce((a, b) => (b.sumOfSquares < a.sumOfSquares ? b : a))
  const limit = chiSquaredAt(STRAIN_SD, problem.residualCount - problem.unknownCount)
  if (worst.offSd <= MISTAKE_SD && sumOfSquares <= limit) return null
  const zoomed = zoomBetween(points)
  if (zoomed !== null) return { point: null, reason: zoomed }
  return faultAt(
    worst.point,
    `lies about ${worst.offPx.toFixed(0)} px from where the other points and the board's lengths put it: mark it again ` +
      "on the near top edge, or check the board's lengths.",
  )
}

/** From the side a plank looks as long with one end down as with the other; more than this is no perspective. */
const ZOOM_SHARE = 0.08

/** The sentence for marks of two zooms: no single click is wrong, the plank is longer in one frame than in the other. */
function zoomBetween(points: readonly MarkPoint[]): string | null {
  const lengthPx = (when: MarkPoint['when']): number => {
    const own = points.filter((point) => point.when === when)
    const [first, last] = [own[0]?.image, own.at(-1)?.image]
    return first === undefined || last === undefined ? NaN : Math.hypot(last.xPx - first.xPx, last.yPx - first.yPx)
  }
  const times = lengthPx('grounded') / lengthPx('rest')
  if (!(Math.abs(Math.log(times)) > ZOOM_SHARE)) return null
  return (
    `The plank looks ${times.toFixed(2)} times as long with the exit end down as at rest: if the camera zoomed ` +
    'between the two, mark two frames of the same zoom; if it did not, mark both ends again in both frames.'
  )
}

/** The chi-squared value as unlikely as a normal number `sd` above its mean (Wilson and Hilferty, PNAS 17, 1931). */
function chiSquaredAt(sd: number, degreesOfFreedom: number): number {
  const spread = 2 / (9 * degreesOfFreedom)
  return degreesOfFreedom * (1 - spread + sd * Math.sqrt(spread)) ** 3
}

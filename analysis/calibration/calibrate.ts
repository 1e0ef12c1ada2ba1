import type { Board } from '../board/board.ts'
import type { Marks } from '../board/marks.ts'
import type { LeastSquaresFit } from '../numeric/least-squares.ts'
import { calibrationOf } from './calibration-of-fit.ts'
import { CalibrationProblem } from './calibration-problem.ts'
import { plainFault, pointName } from './mark-faults.ts'
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
  if (fault !== null) return { kind: 'impossible', reason: fault }
  const fit = problem.solve()
  const mistake = mistakenClick(problem, fit)
  if (mistake !== null) return { kind: 'impossible', reason: mistake }
  return { kind: 'calibrated', calibration: calibrationOf(problem, fit) }
}

function mistakenClick(problem: CalibrationProblem, { residuals, sumOfSquares }: LeastSquaresFit): string | null {
  const { points } = problem
  const sizesSd = points.map((_, k) => Math.hypot(residuals[2 * k]!, residuals[2 * k + 1]!))
  // Cheap gate: honest clicks seldom strain the fit more than this, and then the careful look below decides.
  if (Math.max(...sizesSd) < 2 && sumOfSquares < 2 * points.length) return null
  const judged = points.map((point, index) => ({ point, ...problem.leftOut(index) }))
  const worst = judged.reduce((a, b) => (b.sumOfSquares < a.sumOfSquares ? b : a))
  const limit = chiSquaredAt(STRAIN_SD, problem.residualCount - problem.unknownCount)
  if (worst.offSd <= MISTAKE_SD && sumOfSquares <= limit) return null
  return (
    `${pointName(worst.point)} lies about ${worst.offPx.toFixed(0)} px from where the other points and the board's ` +
    'lengths put it: mark it again on the near top edge, or check the lengths in the board file.'
  )
}

/** The chi-squared value as unlikely as a normal number `sd` above its mean (Wilson and Hilferty, PNAS 17, 1931). */
function chiSquaredAt(sd: number, degreesOfFreedom: number): number {
  const spread = 2 / (9 * degreesOfFreedom)
  return degreesOfFreedom * (1 - spread + sd * Math.sqrt(spread)) ** 3
}

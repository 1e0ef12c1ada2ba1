import type { Board } from '../board/board.ts'
import type { Marks } from '../board/marks.ts'
import { leastSquares, type LeastSquaresFit } from '../numeric/least-squares.ts'
import { invertSymmetric } from '../numeric/matrix.ts'
import { plainFault, pointName } from './mark-faults.ts'
import { markPoints, type MarkPoint } from './mark-points.ts'
import { GROUND_SD_M, isPossible, poseFromZ, POSE_UNKNOWNS, posePriors, type PosePriors } from './pose-priors.ts'
import { lowerCornerHeightM, PinholeSeesaw } from './pinhole-seesaw.ts'
import { posteriorDraws } from './posterior.ts'
import type {
  Calibration,
  CalibrationBasis,
  CalibrationOptions,
  CalibrationOutcome,
  PictureSize,
} from './seesaw-camera.ts'

export const DEFAULT_CLICK_SD_PX = 1.5
/** A click this many sd away from where the other points put it is a mistake, not noise. */
const MISTAKE_SD = 5.5

/**
 * Camera, board build and both resting angles from the clicked points, the board's known lengths and what is
 * generally known of phones, hands and ground.
 *
 * The most probable pose by Levenberg-Marquardt from several starts, the rest of the posterior by Laplace's
 * approximation. An end rests on its lower edge; the two ends' grounds are level within a few cm, which is what tells
 * a tilted camera from a tilted seesaw.
 *
 * @param board lengths in m
 * @param marks clicked points, full-resolution image px, top edge nearest the camera; the grounded ones may be missing
 * @param picture size of the displayed picture, px
 * @returns the calibration, or `impossible` with one sentence that names the point that is wrong
 */
export function calibrate(
  board: Board,
  marks: Marks,
  picture: PictureSize,
  options: CalibrationOptions = {},
): CalibrationOutcome {
  const points = markPoints(board, marks)
  const fault = plainFault(points, picture)
  if (fault !== null) return { kind: 'impossible', reason: fault }
  const problem = new CalibrationProblem({ board, marks, picture, options }, points)
  const fit = bestFit(problem)
  const mistake = mistakenClick(problem, fit)
  if (mistake !== null) return { kind: 'impossible', reason: mistake }
  return { kind: 'calibrated', calibration: calibrationFromFit(problem, fit) }
}

/** The unknowns are the pose's z-scores and then the z-scores of the grounded marks' common shift in x and y. */
export class CalibrationProblem {
  readonly basis: CalibrationBasis
  readonly points: readonly MarkPoint[]
  readonly priors: PosePriors
  readonly exitSide: 1 | -1
  readonly unknownCount: number
  readonly residualCount: number
  readonly clickSdPx: number
  readonly shiftSdPx: number

  constructor(basis: CalibrationBasis, points: readonly MarkPoint[]) {
    this.basis = basis
    this.points = points
    this.priors = posePriors(basis.board, basis.picture)
    const entry = points[0]!
    const exit = points[4]!
    this.exitSide = exit.image.xPx > entry.image.xPx ? 1 : -1
    this.unknownCount = POSE_UNKNOWNS.length + 2
    this.residualCount = 2 * points.length + 2 + this.unknownCount
    this.clickSdPx = basis.options.clickSdPx ?? DEFAULT_CLICK_SD_PX
    const longSidePx = Math.max(basis.picture.widthPx, basis.picture.heightPx)
    this.shiftSdPx = basis.options.groundedShiftSdPx ?? 0.004 * longSidePx
  }

  /** The camera at the given unknowns. */
  camera(z: ArrayLike<number>): PinholeSeesaw {
    return new PinholeSeesaw(poseFromZ(z, this.priors), this.basis.board, this.exitSide)
  }

  /** Where a clicked point should be at the given unknowns: [x, y] in px. */
  predicted(camera: PinholeSeesaw, point: MarkPoint, z: ArrayLike<number>): readonly [number, number] {
    const landed = point.when === 'grounded'
    const angleRad = landed ? camera.groundedAngleRad : camera.restAngleRad
    const { xPx, yPx } = camera.imageFromPlank({ alongM: point.alongM, aboveM: 0, acrossM: 0 }, angleRad)
    if (!landed) return [xPx, yPx]
    const shift = POSE_UNKNOWNS.length
    return [xPx + this.shiftSdPx * z[shift]!, yPx + this.shiftSdPx * z[shift + 1]!]
  }

  /** Writes marks, physics and priors, in sd; `loosened` is the index of a click that shall not count. */
  residuals(z: Float64Array, into: Float64Array, loosened = -1): void {
    const { points, clickSdPx, basis } = this
    const camera = this.camera(z)
    let at = 0
    for (let k = 0; k < points.length; k++) {
      const point = points[k]!
      const [xPx, yPx] = this.predicted(camera, point, z)
      const weight = k === loosened ? 0 : 1 / clickSdPx
      into[at++] = (xPx - point.image.xPx) * weight
      into[at++] = (yPx - point.image.yPx) * weight
    }
    const { axisBelowTopM, thicknessM } = camera
    for (const angleRad of [camera.restAngleRad, camera.groundedAngleRad]) {
      into[at++] = lowerCornerHeightM(basis.board, axisBelowTopM, thicknessM, angleRad) / GROUND_SD_M
    }
    for (let k = 0; k < this.unknownCount; k++) into[at++] = z[k]!
  }
}

function bestFit(problem: CalibrationProblem, loosened = -1): LeastSquaresFit {
  const starts = startingPoints(problem)
  const typical = new Float64Array(problem.unknownCount).fill(1)
  const squares = {
    residualCount: problem.residualCount,
    typical,
    residuals: (z: Float64Array, into: Float64Array) => problem.residuals(z, into, loosened),
  }
  const fits = starts.map((start) => leastSquares(squares, start))
  return fits.reduce((best, fit) => (fit.sumOfSquares < best.sumOfSquares ? fit : best))
}

/** One start for each of a few views: the distance and aim that put the clicked board's span and pivot where they are. */
function startingPoints(problem: CalibrationProblem): Float64Array[] {
  const { priors, points, basis } = problem
  const [entry, , pivot, , exit] = points
  const spanPx = Math.hypot(exit!.image.xPx - entry!.image.xPx, exit!.image.yPx - entry!.image.yPx)
  const focalPx = Math.exp(priors.means[0]!)
  const starts: Float64Array[] = []
  for (const yawDeg of [0, -30, 30]) {
    const yawRad = (yawDeg * Math.PI) / 180
    const z = new Float64Array(problem.unknownCount)
    const rangeM = (focalPx * basis.board.lengthM * Math.cos(yawRad)) / spanPx
    const bearingRad = yawRad + Math.atan((pivot!.image.xPx - priors.means[1]!) / focalPx)
    const downRad = Math.atan((pivot!.image.yPx - priors.means[2]!) / focalPx)
    const distanceM = rangeM * Math.cos(bearingRad)
    const set = (index: number, value: number): void => {
      z[index] = (value - priors.means[index]!) / priors.sds[index]!
    }
    set(3, yawRad)
    set(4, downRad - Math.atan((priors.means[7]! - basis.board.pivotHeightM) / rangeM))
    set(6, -rangeM * Math.sin(bearingRad))
    set(8, Math.log(distanceM))
    starts.push(z)
  }
  return starts
}

function mistakenClick(problem: CalibrationProblem, fit: LeastSquaresFit): string | null {
  const { points } = problem
  const suspects = points
    .map((point, index) => ({
      point,
      index,
      sizeSd: Math.hypot(fit.residuals[2 * index]!, fit.residuals[2 * index + 1]!),
    }))
    .sort((a, b) => b.sizeSd - a.sizeSd)
  const clicks = points.reduce((sum, _, k) => sum + fit.residuals[2 * k]! ** 2 + fit.residuals[2 * k + 1]! ** 2, 0)
  const ground = 2 * points.length
  const strain = Math.max(Math.abs(fit.residuals[ground]!), Math.abs(fit.residuals[ground + 1]!))
  // Cheap gate: nothing here is out of the ordinary for honest clicks.
  if (suspects[0]!.sizeSd < 2.5 && clicks < 2 * points.length && strain < 2.5) return null
  const judged = suspects.map(({ point, index }) => ({ point, ...leftOut(problem, index) }))
  const worst = judged.reduce((a, b) => (b.sumOfSquares < a.sumOfSquares ? b : a))
  if (worst.offSd > MISTAKE_SD) {
    return (
      `${pointName(worst.point)} lies about ${worst.offPx.toFixed(0)} px from where the other points and the board's ` +
      'lengths put it: mark it again on the near top edge (or check the lengths in the board file).'
    )
  }
  return null
}

/** How far a click lies from where the others predict it, in px and in sd of that prediction plus a click's noise. */
function leftOut(problem: CalibrationProblem, index: number): { sumOfSquares: number; offPx: number; offSd: number } {
  const fit = bestFit(problem, index)
  const n = problem.unknownCount
  const point = problem.points[index]!
  const camera = problem.camera(fit.parameters)
  const [xPx, yPx] = problem.predicted(camera, point, fit.parameters)
  const covariance = invertSymmetric(fit.information, n)!
  const slopes = [new Float64Array(n), new Float64Array(n)] as const
  const step = 1e-4
  const moved = fit.parameters.slice()
  for (let k = 0; k < n; k++) {
    moved[k]! += step
    const [x, y] = problem.predicted(problem.camera(moved), point, moved)
    moved[k] = fit.parameters[k]!
    slopes[0][k] = (x - xPx) / step
    slopes[1][k] = (y - yPx) / step
  }
  const noise = problem.clickSdPx ** 2
  const xx = quadratic(covariance, slopes[0], slopes[0]) + noise
  const yy = quadratic(covariance, slopes[1], slopes[1]) + noise
  const xy = quadratic(covariance, slopes[0], slopes[1])
  const dx = point.image.xPx - xPx
  const dy = point.image.yPx - yPx
  const squared = (dx * dx * yy - 2 * dx * dy * xy + dy * dy * xx) / (xx * yy - xy * xy)
  return { sumOfSquares: fit.sumOfSquares, offPx: Math.hypot(dx, dy), offSd: Math.sqrt(squared) }
}

function quadratic(matrix: Float64Array, left: Float64Array, right: Float64Array): number {
  const n = left.length
  let sum = 0
  for (let row = 0; row < n; row++) {
    for (let column = 0; column < n; column++) sum += left[row]! * matrix[row * n + column]! * right[column]!
  }
  return sum
}

function calibrationFromFit(problem: CalibrationProblem, fit: LeastSquaresFit): Calibration {
  const { options } = problem.basis
  const draws = posteriorDraws(fit, options.drawCount ?? 64, options.seed ?? 1, (z) => isPossible(z, problem.priors))
  const best = problem.camera(fit.parameters)
  let squares = 0
  let worst = { name: '', misfitPx: -1 }
  for (const point of problem.points) {
    const [xPx, yPx] = problem.predicted(best, point, fit.parameters)
    const misfitPx = Math.hypot(xPx - point.image.xPx, yPx - point.image.yPx)
    squares += misfitPx ** 2
    if (misfitPx > worst.misfitPx) worst = { name: pointName(point), misfitPx }
  }
  return {
    best,
    draws: draws.map((z) => problem.camera(z)),
    misfitPx: Math.sqrt(squares / problem.points.length),
    worst,
    basis: problem.basis,
  }
}

import { leastSquares, type LeastSquaresFit } from '../numeric/least-squares.ts'
import { invertSymmetric } from '../numeric/matrix.ts'
import { markPoints, type MarkPoint } from './mark-points.ts'
import { PinholeSeesaw } from './pinhole-seesaw.ts'
import { likelyBuild, likelyFocalPx, PRIOR_COUNT, writePriorResiduals } from './pose-priors.ts'
import type { CalibrationBasis } from './seesaw-camera.ts'
import { poseFromView, TYPICAL_CHANGES, VIEW_UNKNOWNS } from './view-unknowns.ts'

const DEFAULT_CLICK_SD_PX = 1.5
/** Of the picture's long side: how far a hand drifts between the two marked frames unless told. */
const HAND_DRIFT_SD = 0.004

/**
 * Marks, priors and physics as one sum of squares. Unknowns: `VIEW_UNKNOWNS`, then the grounded marks' common shift in
 * x and y in units of its sd (a camera that moved between the two marked frames).
 */
export class CalibrationProblem {
  readonly basis: CalibrationBasis
  readonly points: readonly MarkPoint[]
  readonly exitSide: 1 | -1
  readonly unknownCount = VIEW_UNKNOWNS.length + 2
  readonly residualCount: number
  readonly clickSdPx: number
  readonly shiftSdPx: number
  /** True when nothing is known of the camera's motion: mostly a drifting hand, now and then a pan. */
  private readonly mayPan: boolean

  constructor(basis: CalibrationBasis) {
    this.basis = basis
    this.points = markPoints(basis.board, basis.marks)
    this.exitSide = basis.marks.rest.exitEnd.xPx > basis.marks.rest.entryEnd.xPx ? 1 : -1
    this.residualCount = 2 * this.points.length + PRIOR_COUNT + 2
    this.clickSdPx = basis.options.clickSdPx ?? DEFAULT_CLICK_SD_PX
    const longSidePx = Math.max(basis.picture.widthPx, basis.picture.heightPx)
    this.mayPan = basis.options.groundedShiftSdPx === undefined
    this.shiftSdPx = basis.options.groundedShiftSdPx ?? HAND_DRIFT_SD * longSidePx
  }

  /** The camera at the given unknowns. */
  camera(unknowns: ArrayLike<number>): PinholeSeesaw {
    const { board } = this.basis
    return new PinholeSeesaw(poseFromView(unknowns, board, this.exitSide), board, this.exitSide)
  }

  /** Where a clicked point should be at the given unknowns: [x, y] in image px. */
  predicted(camera: PinholeSeesaw, point: MarkPoint, unknowns: ArrayLike<number>): readonly [number, number] {
    const landed = point.when === 'grounded'
    const angleRad = landed ? camera.groundedAngleRad : camera.restAngleRad
    const { xPx, yPx } = camera.imageFromPlank({ alongM: point.alongM, aboveM: 0, acrossM: 0 }, angleRad)
    if (!landed) return [xPx, yPx]
    const shift = VIEW_UNKNOWNS.length
    return [xPx + this.shiftSdPx * unknowns[shift]!, yPx + this.shiftSdPx * unknowns[shift + 1]!]
  }

  /** Writes clicks (x, y of each point), priors and shifts, in sd; the click with index `leftOut` does not count. */
  writeResiduals(unknowns: Float64Array, into: Float64Array, leftOut = -1): void {
    const { points, clickSdPx, basis } = this
    const camera = this.camera(unknowns)
    for (let k = 0; k < points.length; k++) {
      const point = points[k]!
      const [xPx, yPx] = this.predicted(camera, point, unknowns)
      const weight = k === leftOut ? 0 : 1 / clickSdPx
      into[2 * k] = (xPx - point.image.xPx) * weight
      into[2 * k + 1] = (yPx - point.image.yPx) * weight
    }
    const at = 2 * points.length
    writePriorResiduals(camera.pose, unknowns, basis.board, basis.picture, into, at, basis.options.heightM)
    for (let k = 0; k < 2; k++) {
      const shift = unknowns[VIEW_UNKNOWNS.length + k]!
      into[at + PRIOR_COUNT + k] = this.mayPan ? heavyTailed(shift) : shift
    }
  }

  /** Steps for numeric derivatives, one for each unknown. */
  typicalChanges(): Float64Array {
    return Float64Array.of(...VIEW_UNKNOWNS.map((name) => TYPICAL_CHANGES[name]), 0.3, 0.3)
  }

  /** The most probable unknowns, best of starts from the left, from straight ahead and from the right, panned or not. */
  solve(leftOut = -1): LeastSquaresFit {
    const squares = {
      residualCount: this.residualCount,
      typical: this.typicalChanges(),
      residuals: (unknowns: Float64Array, into: Float64Array) => this.writeResiduals(unknowns, into, leftOut),
    }
    const fits = this.starts().map((start) => leastSquares(squares, start))
    return fits.reduce((best, fit) => (fit.sumOfSquares < best.sumOfSquares ? fit : best))
  }

  private starts(): Float64Array[] {
    const { rest, grounded } = this.basis.marks
    const views = [0, -0.08, 0.08]
    if (grounded === undefined || !this.mayPan) return views.map((recedingPerM) => this.start(recedingPerM, [0, 0]))
    // The middle of the plank hardly moves while it turns, so that the middle of its ends shows a pan.
    const pan = [
      ((grounded.entryEnd.xPx + grounded.exitEnd.xPx) / 2 - rest.pivot.xPx) / this.shiftSdPx,
      ((grounded.entryEnd.yPx + grounded.exitEnd.yPx) / 2 - rest.pivot.yPx) / this.shiftSdPx,
    ] as const
    return views.flatMap((recedingPerM) => [this.start(recedingPerM, [0, 0]), this.start(recedingPerM, pan)])
  }

  private start(recedingPerM: number, shift: readonly [number, number]): Float64Array {
    const { board, picture, marks } = this.basis
    const { entryEnd, exitEnd, pivot } = marks.rest
    const build = likelyBuild(board)
    const slope = Math.atan2(exitEnd.yPx - entryEnd.yPx, Math.abs(exitEnd.xPx - entryEnd.xPx))
    const lengthPx = Math.hypot(exitEnd.xPx - entryEnd.xPx, exitEnd.yPx - entryEnd.yPx)
    const start: Record<(typeof VIEW_UNKNOWNS)[number], number> = {
      logFocal: Math.log(likelyFocalPx(picture)),
      principalXPx: picture.widthPx / 2,
      principalYPx: picture.heightPx / 2,
      distortion: 0,
      pitchRad: 0,
      rollRad: 0,
      pivotXPx: pivot.xPx,
      pivotYPx: pivot.yPx,
      logPxPerM: Math.log(lengthPx / board.lengthM),
      recedingPerM,
      restSlopeRad: slope,
      groundedSlopeRad: -slope,
      ...build,
    }
    return Float64Array.of(...VIEW_UNKNOWNS.map((name) => start[name]), ...shift)
  }

  /**
   * How far a click lies from where all the others put it.
   *
   * @returns the distance in px, and in sd of that prediction and the click's own noise; what remains without the click
   */
  leftOut(index: number): { offPx: number; offSd: number; sumOfSquares: number } {
    const fit = this.solve(index)
    const n = this.unknownCount
    const point = this.points[index]!
    const [xPx, yPx] = this.predicted(this.camera(fit.parameters), point, fit.parameters)
    const covariance = invertSymmetric(fit.information, n)!
    const xSlopes = new Float64Array(n)
    const ySlopes = new Float64Array(n)
    const moved = fit.parameters.slice()
    const steps = this.typicalChanges()
    for (let k = 0; k < n; k++) {
      const step = 1e-3 * steps[k]!
      moved[k]! += step
      const [x, y] = this.predicted(this.camera(moved), point, moved)
      moved[k] = fit.parameters[k]!
      xSlopes[k] = (x - xPx) / step
      ySlopes[k] = (y - yPx) / step
    }
    const noise = this.clickSdPx ** 2
    const xx = bilinear(covariance, xSlopes, xSlopes) + noise
    const yy = bilinear(covariance, ySlopes, ySlopes) + noise
    const xy = bilinear(covariance, xSlopes, ySlopes)
    const dx = point.image.xPx - xPx
    const dy = point.image.yPx - yPx
    const squared = (dx * dx * yy - 2 * dx * dy * xy + dy * dy * xx) / (xx * yy - xy * xy)
    return { offPx: Math.hypot(dx, dy), offSd: Math.sqrt(squared), sumOfSquares: fit.sumOfSquares }
  }
}

/** A z-score's residual under Cauchy's distribution: like a normal one near 0, and far values cost little more. */
function heavyTailed(z: number): number {
  return Math.sign(z) * Math.sqrt(Math.log1p(z * z))
}

function bilinear(matrix: Float64Array, left: Float64Array, right: Float64Array): number {
  const n = left.length
  let sum = 0
  for (let row = 0; row < n; row++) {
    for (let column = 0; column < n; column++) sum += left[row]! * matrix[row * n + column]! * right[column]!
  }
  return sum
}

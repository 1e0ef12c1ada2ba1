import { isPossibleBuild } from '../calibration/pose-priors.ts'
import { plainFault } from '../calibration/mark-faults.ts'
import { markPoints } from '../calibration/mark-points.ts'
import type { PinholeSeesaw } from '../calibration/pinhole-seesaw.ts'
import { posteriorDraws } from '../calibration/posterior.ts'
import type { CalibrationBasis } from '../calibration/seesaw-camera.ts'
import { measured, type Estimate, type Measured } from '../estimate.ts'
import type { ImagePx } from '../geometry/points.ts'
import { seededRandom } from '../numeric/random.ts'
import { SizesProblem } from './sizes-problem.ts'

/** A board's sizes as one picture of it shows them, beside the plank's length that was entered. */
export interface PictureSizes {
  /** The plank's length that all others are told by, m. */
  readonly lengthM: number
  readonly upContactM: Measured
  readonly downContactM: Measured
  /** Of the top surface over the ground under the ends, at mid length with the plank level. */
  readonly pivotHeightM: Measured
  /** Board angle with the entry end down, deg, negative. */
  readonly restAngleDeg: Measured
  /** From the entry end down to the exit end down, deg; withheld where the exit end was not marked on the ground. */
  readonly swingDeg: Estimate
}

const DEGREES = 180 / Math.PI
/** Draws that carry the uncertainty; an sd from so many is right to 4 %. */
const DRAWS = 300
/** Draws are the same in every run. */
const SEED = 5
/** A click's noise on each coordinate where nobody says more, 1 sd, px: as in a calibration. */
const CLICK_SD_PX = 1.5
/**
 * Sums of squares beyond this are no noise: 26 residuals less 17 unknowns leave 9 degrees of freedom, with which chi-squared
 * exceeds it once in 10,000 times (any table).
 */
const MOST_STRAIN = 34

/**
 * Zones, pivot height and angles of a board from the points that were marked in a picture of it, with the uncertainty of
 * clicks, camera and ground. Neither the entered zones nor the entered height are believed.
 *
 * @param basis the board (of which only the length and, where known, thickness and axis are used, m), marks and picture
 *   size, px
 * @returns null where the marks do not fit any board of this length
 */
export function picturedSizes(basis: CalibrationBasis): PictureSizes | null {
  const { board, marks, picture, options } = basis
  const isClicked = options.groundedShiftSdPx === undefined
  if (plainFault(markPoints(board, marks), picture, isClicked) !== null) return null
  const problem = new SizesProblem(basis)
  const fit = problem.solve()
  if (!(fit.sumOfSquares < MOST_STRAIN)) return null
  const draws = posteriorDraws(
    fit,
    DRAWS,
    SEED,
    (unknowns) => isPossibleBuild(unknowns) && problem.isPossibleHeight(unknowns),
  )
  const best = problem.camera(fit.parameters)
  const cameras = draws.map((unknowns) => problem.camera(unknowns))
  const random = seededRandom(SEED)
  const clickSdPx = options.clickSdPx ?? CLICK_SD_PX
  const clickedAgain = ({ xPx, yPx }: ImagePx): ImagePx => ({
    xPx: xPx + clickSdPx * random.normal(),
    yPx: yPx + clickSdPx * random.normal(),
  })
  const along = (camera: PinholeSeesaw, point: ImagePx) => camera.plankFromImage(point, camera.restAngleRad, 0).alongM
  const { upContactEdge: up, downContactEdge: down } = marks.rest
  const angle = (of: (camera: PinholeSeesaw) => number) =>
    around(
      DEGREES * of(best),
      cameras.map((camera) => DEGREES * of(camera)),
    )
  return {
    lengthM: board.lengthM,
    upContactM: around(
      along(best, up),
      cameras.map((camera) => along(camera, clickedAgain(up))),
    ),
    downContactM: around(
      board.lengthM - along(best, down),
      cameras.map((camera) => board.lengthM - along(camera, clickedAgain(down))),
    ),
    pivotHeightM: around(
      fit.parameters[problem.heightAt]!,
      draws.map((unknowns) => unknowns[problem.heightAt]!),
    ),
    restAngleDeg: angle((camera) => camera.restAngleRad),
    swingDeg:
      marks.grounded === undefined ? NOT_DOWN : angle((camera) => camera.groundedAngleRad - camera.restAngleRad),
  }
}

const NOT_DOWN: Estimate = {
  kind: 'withheld',
  reason: 'never-landed',
  detail: 'The exit end was not marked on the ground.',
}

/** The likeliest value with the spread of the draws about it. */
function around(value: number, draws: readonly number[]): Measured {
  return measured(value, Math.sqrt(draws.reduce((sum, draw) => sum + (draw - value) ** 2, 0) / draws.length))
}

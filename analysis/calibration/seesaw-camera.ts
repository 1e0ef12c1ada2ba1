import type { ImagePx, PlankM } from '../geometry/points.ts'

/**
 * A pinhole camera calibrated on the seesaw: maps plank coordinates at a given board angle to full-resolution
 * image px of the reference frame (the frame of the rest marks; other frames differ by the camera's motion).
 */
export interface SeesawCamera {
  readonly focalPx: number
  /** Height of the turning axis over the ground, m. */
  readonly axisHeightM: number
  readonly axisBelowTopM: number
  readonly thicknessM: number
  readonly lengthM: number
  readonly widthM: number
  /** Board angle in the rest marks' frame, rad (negative). */
  readonly restAngleRad: number
  /** Board angle with the exit end grounded, rad (positive); predicted from the geometry without a grounded mark. */
  readonly groundedAngleRad: number
  /** Camera to the place on the ground where the exit end lands, m. */
  readonly distanceToLandingM: number
  /** Where a point fixed to the plank appears when the board stands at `angleRad`. */
  imageFromPlank(point: PlankM, angleRad: number): ImagePx
  /** Where a point of the standing world appears: x along travel and y up from the ground below the pivot, across as in `PlankM`. */
  imageFromWorld(point: { readonly xM: number; readonly yM: number; readonly acrossM: number }): ImagePx
  /** The plank point on the plane `acrossM` = given that appears at an image point, board at `angleRad`. */
  plankFromImage(point: ImagePx, angleRad: number, acrossM: number): PlankM
}

/** The best camera and equally likely alternatives: push a measure through `draws` to get its share of the uncertainty. */
export interface Calibration {
  readonly best: SeesawCamera
  /** Draws from the posterior given click noise, priors of what is unknown; same length for all clips (64). */
  readonly draws: readonly SeesawCamera[]
  /** Root mean square distance of the clicked points from the fitted ones, full-resolution px. */
  readonly misfitPx: number
  /** The worst point, for "click it again". */
  readonly worst: { readonly name: string; readonly misfitPx: number }
}

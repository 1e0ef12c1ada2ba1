import type { Board } from '../board/board.ts'
import type { Marks } from '../board/marks.ts'
import type { ImagePx, PlankM } from '../geometry/points.ts'
import type { PointOfMarks } from './mark-points.ts'

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
  /** 1 when the exit end lies to the right in the picture, -1 when to the left. */
  readonly exitSide: 1 | -1
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
  /**
   * For bulk work: the projection that takes (`alongM`, `aboveM`) on the plane `acrossM` = given, board at `angleRad`,
   * to image px. 3 x 3, row by row, as in `geometry/homography.ts`. Exact for a lens without distortion, else the best
   * over the swept plank (off by less than a thousandth of the picture's width).
   */
  homographyAt(angleRad: number, acrossM: number): Float64Array
  /** For bulk work: the projection that takes (`xM`, `yM`) of the standing world at `acrossM` to image px, as above. */
  worldHomography(acrossM: number): Float64Array
}

/** The best camera and equally likely alternatives: push a measure through `draws` to get its share of the uncertainty. */
export interface Calibration {
  readonly best: SeesawCamera
  /** Draws from the posterior given click noise, priors of what is unknown; same length for all clips (64). */
  readonly draws: readonly SeesawCamera[]
  /** Root mean square distance of the clicked points from the fitted ones, full-resolution px. */
  readonly misfitPx: number
  /** The worst point, for "click it again". */
  readonly worst: { readonly point: PointOfMarks; readonly misfitPx: number }
  /** What the calibration was made from, so that it can be refined with observations. */
  readonly basis: CalibrationBasis
}

/** Everything that went into a calibration before the clip's frames were looked at. */
export interface CalibrationBasis {
  readonly board: Board
  readonly marks: Marks
  readonly picture: PictureSize
  readonly options: CalibrationOptions
}

/** Size of the displayed picture at full resolution. */
export interface PictureSize {
  readonly widthPx: number
  readonly heightPx: number
}

export interface CalibrationOptions {
  /** Noise of a click on each coordinate, 1 sd, full-resolution px. Default 1.5. */
  readonly clickSdPx?: number
  /**
   * Set when the grounded marks were carried over to the rest marks' frame by a measured camera motion: how well, 1 sd
   * of a common shift, px. Without it the camera may have drifted a little or panned between the two.
   */
  readonly groundedShiftSdPx?: number
  /** The camera's height over the ground where the picture tells it, mean and 1 sd, m. Default: a standing person's. */
  readonly heightM?: readonly [number, number]
  /** Seed of the draws. Default 1. */
  readonly seed?: number
  /** How many draws. Default 64. */
  readonly drawCount?: number
}

/** A calibration, or the one sentence that says which mark is wrong. */
export type CalibrationOutcome =
  | { readonly kind: 'calibrated'; readonly calibration: Calibration }
  /** `reason` is a sentence for people; `point` the one that is likeliest wrong, null where no single one is. */
  | { readonly kind: 'impossible'; readonly reason: string; readonly point: PointOfMarks | null }

import type { Board } from '../board/board.ts'
import type { SeesawCamera } from '../calibration/seesaw-camera.ts'
import { applyHomography, invertHomography } from '../geometry/homography.ts'
import type { ImagePx, PlankM } from '../geometry/points.ts'
import type { RideFootfall } from '../ride/ride.ts'
import { type Outline, OUTLINE_UNIT_M } from '../silhouette/outline.ts'

/** Where the board stood in the frames of a clip: parallel arrays, one element a frame. */
export interface PlankPicture {
  readonly board: Board
  readonly calibration: { readonly best: SeesawCamera }
  /** s of real time. */
  readonly ptsS: Float64Array
  /** rad, 0 level; NaN where the plank was not followed. */
  readonly angleRad: Float64Array
  /** 3x3 homographies, row by row: from image px of the marks' rest frame to image px of this frame; NaN if not known. */
  readonly cameraMotion: readonly Float64Array[]
  /** The dog's outline, null where it is not known; absent for drops and for rides measured before there were outlines. */
  readonly outlines?: readonly (Outline | null)[]
}

/** What is drawn on one frame to prove the measurement: full-resolution image px of that frame. */
export interface FrameDrawing {
  /** The plank's top edge nearest the camera, entry end to exit end, in three parts; bent where the lens bends it. */
  readonly upZoneEdge: Polyline
  readonly middleEdge: Polyline
  readonly downZoneEdge: Polyline
  /** The zones' inner borders, from the near edge to the far edge. */
  readonly upBorder: Polyline
  readonly downBorder: Polyline
  /** From the middle of the near edge a short way down, square to the plank. */
  readonly pivot: readonly [ImagePx, ImagePx]
  readonly paws: readonly PawMark[]
  /** A closed line about the dog, its last point not repeated; null where it is not known. */
  readonly dog: Polyline | null
}

/** Points to be joined by straight lines. */
export type Polyline = readonly ImagePx[]

export interface PawMark {
  readonly at: ImagePx
  readonly limb: RideFootfall['limb']
}

/** How far below the plank the tip of the pivot mark lies, m. */
const pivotMarkM = 0.12

/**
 * Where a point of the plank appears in one frame.
 *
 * @param picture board, camera and their motion
 * @param k element of the picture's arrays, not the frame's index in the clip
 * @returns full-resolution image px of that frame for plank m; null where the plank or the camera was not followed
 */
export function plankInFrame(picture: PlankPicture, k: number): ((point: PlankM) => ImagePx) | null {
  const angleRad = picture.angleRad[k]
  const motion = picture.cameraMotion[k]
  if (angleRad === undefined || motion === undefined) return null
  if (Number.isNaN(angleRad) || motion.some(Number.isNaN)) return null
  const camera = picture.calibration.best
  return (point) => {
    const still = camera.imageFromPlank(point, angleRad)
    const [xPx, yPx] = applyHomography(motion, still.xPx, still.yPx)
    return { xPx, yPx }
  }
}

/**
 * Which point of the plank's top a picture point shows, the inverse of {@link plankInFrame}.
 *
 * @param picture board, camera and their motion
 * @param k element of the picture's arrays, not the frame's index in the clip
 * @returns m along for full-resolution image px of that frame, in the middle of the plank's width; null where the plank
 *   or the camera was not followed
 */
export function alongInFrame(picture: PlankPicture, k: number): ((point: ImagePx) => number) | null {
  const angleRad = picture.angleRad[k]
  const motion = picture.cameraMotion[k]
  if (angleRad === undefined || motion === undefined) return null
  if (Number.isNaN(angleRad) || motion.some(Number.isNaN)) return null
  const stillFromFrame = invertHomography(motion)
  return ({ xPx, yPx }) => {
    const [stillXPx, stillYPx] = applyHomography(stillFromFrame, xPx, yPx)
    const still = { xPx: stillXPx, yPx: stillYPx }
    return picture.calibration.best.plankFromImage(still, angleRad, picture.board.widthM / 2).alongM
  }
}

/**
 * The drawing for one frame of a ride or a drop, or null where the plank was not followed.
 *
 * @param picture board, camera and their motion
 * @param k element of the picture's arrays, not the frame's index in the clip
 * @param footfalls those that hold at this frame's time are drawn, in the middle of the plank's width
 */
export function frameDrawing(
  picture: PlankPicture,
  k: number,
  footfalls: readonly RideFootfall[],
): FrameDrawing | null {
  const ptsS = picture.ptsS[k]
  const appears = plankInFrame(picture, k)
  if (ptsS === undefined || appears === null) return null
  const { lengthM, widthM, contactM } = picture.board
  const at = (alongM: number, acrossM: number, aboveM: number): ImagePx => appears({ alongM, acrossM, aboveM })
  const downM = lengthM - contactM
  const edge = (fromM: number, toM: number): Polyline =>
    [0, 0.25, 0.5, 0.75, 1].map((part) => at(fromM + part * (toM - fromM), 0, 0))
  return {
    upZoneEdge: edge(0, contactM),
    middleEdge: edge(contactM, downM),
    downZoneEdge: edge(downM, lengthM),
    upBorder: [at(contactM, 0, 0), at(contactM, widthM, 0)],
    downBorder: [at(downM, 0, 0), at(downM, widthM, 0)],
    pivot: [at(lengthM / 2, 0, 0), at(lengthM / 2, 0, -pivotMarkM)],
    paws: footfalls
      .filter((step) => step.fromS <= ptsS && ptsS <= step.toS)
      .map((step) => ({ at: at(step.alongM, widthM / 2, 0), limb: step.limb })),
    dog: outlined(picture.outlines?.[k] ?? null, at),
  }
}

/** An outline as a line of the picture. */
function outlined(
  outline: Outline | null,
  at: (alongM: number, acrossM: number, aboveM: number) => ImagePx,
): Polyline | null {
  if (outline === null) return null
  return Array.from({ length: outline.length / 2 }, (_, i) =>
    at(outline[2 * i]! * OUTLINE_UNIT_M, 0, outline[2 * i + 1]! * OUTLINE_UNIT_M),
  )
}

/** The element of `ptsS` (s, rising) that is nearest to the time `atS`. */
export function nearestFrame(ptsS: Float64Array, atS: number): number {
  let nearest = 0
  for (let k = 1; k < ptsS.length; k++) {
    if (Math.abs(ptsS[k]! - atS) < Math.abs(ptsS[nearest]! - atS)) nearest = k
  }
  return nearest
}

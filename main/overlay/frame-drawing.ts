import { applyHomography } from '../../analysis/geometry/homography.ts'
import type { ImagePx } from '../../analysis/geometry/points.ts'
import type { RideFootfall } from '../../analysis/ride/ride.ts'
import type { BoardPicture } from '../measuring/measured-ride.ts'

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
 * The drawing for one frame of a ride or a drop, or null where the plank was not followed.
 *
 * @param k element of the picture's arrays, not the frame's index in the clip
 * @param footfalls those that hold at this frame's time are drawn, in the middle of the plank's width
 */
export function frameDrawing(
  picture: BoardPicture,
  k: number,
  footfalls: readonly RideFootfall[],
): FrameDrawing | null {
  const angleRad = picture.angleRad[k]
  const motion = picture.cameraMotion[k]
  const ptsS = picture.ptsS[k]
  if (angleRad === undefined || motion === undefined || ptsS === undefined) return null
  if (Number.isNaN(angleRad) || motion.some(Number.isNaN)) return null
  const { lengthM, widthM, contactM } = picture.board
  const camera = picture.calibration.best
  const at = (alongM: number, acrossM: number, aboveM: number): ImagePx => {
    const still = camera.imageFromPlank({ alongM, acrossM, aboveM }, angleRad)
    const [xPx, yPx] = applyHomography(motion, still.xPx, still.yPx)
    return { xPx, yPx }
  }
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
  }
}

/** The element of the picture's arrays whose frame is nearest to a time, s of real time. */
export function nearestFrame(ptsS: Float64Array, atS: number): number {
  let nearest = 0
  for (let k = 1; k < ptsS.length; k++) {
    if (Math.abs(ptsS[k]! - atS) < Math.abs(ptsS[nearest]! - atS)) nearest = k
  }
  return nearest
}

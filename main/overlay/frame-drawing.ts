import { applyHomography } from '../../analysis/geometry/homography.ts'
import type { ImagePx } from '../../analysis/geometry/points.ts'
import type { RideFootfall } from '../../analysis/ride/ride.ts'
import type { BoardPicture } from '../measuring/measured-ride.ts'

/** What is drawn on one frame to prove the measurement: full-resolution image px of that frame. */
export interface FrameDrawing {
  /** The plank's top edge nearest the camera, entry end to exit end, in three parts. */
  readonly upZoneEdge: Segment
  readonly middleEdge: Segment
  readonly downZoneEdge: Segment
  /** The zones' inner borders, from the near edge to the far edge. */
  readonly upBorder: Segment
  readonly downBorder: Segment
  /** From the middle of the near edge straight down to the turning axis' height and a bit further: points at the pivot. */
  readonly pivot: Segment
  readonly paws: readonly PawMark[]
}

export type Segment = readonly [ImagePx, ImagePx]

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
  if (angleRad === undefined || motion === undefined || ptsS === undefined || Number.isNaN(angleRad)) return null
  const { lengthM, widthM, contactM } = picture.board
  const camera = picture.calibration.best
  const at = (alongM: number, acrossM: number, aboveM: number): ImagePx => {
    const still = camera.imageFromPlank({ alongM, acrossM, aboveM }, angleRad)
    const [xPx, yPx] = applyHomography(motion, still.xPx, still.yPx)
    return { xPx, yPx }
  }
  const downM = lengthM - contactM
  return {
    upZoneEdge: [at(0, 0, 0), at(contactM, 0, 0)],
    middleEdge: [at(contactM, 0, 0), at(downM, 0, 0)],
    downZoneEdge: [at(downM, 0, 0), at(lengthM, 0, 0)],
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

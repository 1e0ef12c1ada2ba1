import {
  frameDrawing,
  type FrameDrawing,
  plankInFrame,
  type PlankPicture,
} from '../../analysis/drawing/frame-drawing.ts'
import type { DogExtent } from '../figures/frame-marks.tsx'
import { PinholeSeesaw } from '../../analysis/calibration/pinhole-seesaw.ts'
import type { RideFootfall } from '../../analysis/ride/ride.ts'
import type { RidePictureRecord } from '../../main/contract/rides.ts'

/** Plank and dog in every frame of a ride. */
export interface OverlayPicture extends PlankPicture {
  readonly leadPawM: readonly (number | null)[]
  readonly rearPawM: readonly (number | null)[]
  readonly bodyM: readonly (number | null)[]
}

export interface OverlayDrawing {
  readonly frame: FrameDrawing
  readonly dog: DogExtent | null
}

const UNKNOWN_MOTION = new Float64Array(9).fill(NaN)

/** What the window is sent of a ride's pictures, ready to be drawn. */
export function plankPicture(record: RidePictureRecord, ptsS: Float64Array): PlankPicture {
  return {
    board: record.board,
    calibration: { best: new PinholeSeesaw(record.pose, record.board, record.exitSide) },
    ptsS,
    angleRad: Float64Array.from(record.angleRad, (angleRad) => angleRad ?? NaN),
    cameraMotion: record.cameraMotion.map((motion) => (motion === null ? UNKNOWN_MOTION : Float64Array.from(motion))),
    ...(record.outlines === undefined ? {} : { outlines: record.outlines }),
  }
}

/** How far below the near edge the dog's extent is drawn, m: beneath the plank, off the paws. */
const BELOW_M = 0.11
const TICK_M = 0.035
const BODY_M = 0.06

/** The drawing for one frame; null where the plank was not followed. */
export function overlayDrawing(
  picture: OverlayPicture,
  element: number,
  footfalls: readonly RideFootfall[],
): OverlayDrawing | null {
  const frame = frameDrawing(picture, element, footfalls)
  const place = plankInFrame(picture, element)
  if (frame === null || place === null) return null
  const leadM = picture.leadPawM[element] ?? null
  const rearM = picture.rearPawM[element] ?? null
  const bodyM = picture.bodyM[element] ?? null
  if (leadM === null || rearM === null) return { frame, dog: null }
  const at = (alongM: number, belowM: number) => place({ alongM, acrossM: 0, aboveM: -belowM })
  const tick = (alongM: number) => [at(alongM, BELOW_M - TICK_M), at(alongM, BELOW_M + TICK_M)]
  const body =
    bodyM === null
      ? null
      : {
          tip: at(bodyM, BELOW_M - 0.01),
          left: at(bodyM - BODY_M / 2, BELOW_M + BODY_M),
          right: at(bodyM + BODY_M / 2, BELOW_M + BODY_M),
        }
  return { frame, dog: { along: [at(rearM, BELOW_M), at(leadM, BELOW_M)], rear: tick(rearM), lead: tick(leadM), body } }
}

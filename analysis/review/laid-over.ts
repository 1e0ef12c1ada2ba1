import type { PinholeSeesaw } from '../calibration/pinhole-seesaw.ts'
import { applyHomography, composeHomographies, homographyFromPoints } from '../geometry/homography.ts'

/** One frame of a marked clip. */
export interface MarkedFrame {
  readonly camera: PinholeSeesaw
  readonly lengthM: number
  readonly widthM: number
  /** 3 x 3, row by row, from image px of the marks' rest frame to image px of this frame. */
  readonly cameraMotion: Float64Array
}

/** How to lay a frame over another, or a sentence why not. */
export type LaidOver =
  | { readonly kind: 'fits'; readonly homography: Float64Array; readonly isMirrored: boolean }
  | { readonly kind: 'does-not'; readonly why: string }

/** A camera that is turned further looks too much along the plank. */
const MOST_YAW_RAD = 0.7
/** Points of the standing plane through the plank's middle, from the level plank's pivot, m. */
const PLANE_M = [
  [-1.5, 0],
  [1.5, 0],
  [1.5, 1],
  [-1.5, 1],
] as const

/**
 * How one ride's frame lies over another's, so that the pivots meet and a metre along the plank is a metre. It is right
 * in the plane in which the dog goes; what stands nearer or further away does not fit.
 *
 * @param under the frame below
 * @param over the frame that is laid over it
 * @returns from image px of `over` to image px of `under`; mirrored where the dogs go in opposite directions
 */
export function laidOver(under: MarkedFrame, over: MarkedFrame): LaidOver {
  if ([under, over].some(({ camera }) => Math.abs(camera.pose.yawRad) > MOST_YAW_RAD)) {
    return {
      kind: 'does-not',
      why: 'One of the cameras looks along the plank rather than at its side: the pictures cannot be laid over each other.',
    }
  }
  if ([under, over].some(({ cameraMotion }) => cameraMotion.some(Number.isNaN))) {
    return { kind: 'does-not', why: 'The camera was not followed in one of these frames: step to another.' }
  }
  const from = PLANE_M.map((point) => inFrame(over, point))
  const to = PLANE_M.map((point) => inFrame(under, point))
  const homography = homographyFromPoints(from, to)
  if (homography === null) return { kind: 'does-not', why: 'These two views do not fit over each other.' }
  return { kind: 'fits', homography, isMirrored: under.camera.exitSide !== over.camera.exitSide }
}

/**
 * A projection between pictures in full-resolution px as one between pictures that are shown at another size.
 *
 * @param homography 3 x 3, row by row
 * @param perPx shown px of an image px, of both pictures
 * @returns the sixteen numbers of a CSS `matrix3d`, column by column
 */
export function shownMatrix(homography: Float64Array, perPx: number): readonly number[] {
  const grow = Float64Array.of(perPx, 0, 0, 0, perPx, 0, 0, 0, 1)
  const shrink = Float64Array.of(1 / perPx, 0, 0, 0, 1 / perPx, 0, 0, 0, 1)
  const [a, b, c, d, e, f, g, h, i] = composeHomographies(grow, composeHomographies(homography, shrink))
  return [a!, d!, 0, g!, b!, e!, 0, h!, 0, 0, 1, 0, c!, f!, 0, i!]
}

function inFrame({ camera, lengthM, widthM, cameraMotion }: MarkedFrame, [alongM, aboveM]: readonly [number, number]) {
  const still = camera.imageFromPlank({ alongM: lengthM / 2 + alongM, aboveM, acrossM: widthM / 2 }, 0)
  return applyHomography(cameraMotion, still.xPx, still.yPx)
}

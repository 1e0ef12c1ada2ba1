import type { PictureSize } from '../calibration/seesaw-camera.ts'
import { type CameraMotion, CameraFollower, mapImage } from '../camera/camera-motion.ts'
import type { Frame } from '../clip/frame.ts'
import { pictureOf, type ScenePicture } from './scene-picture.ts'

/** A frame laid over the reference frame. */
export interface SteadyPicture {
  readonly frame: Frame
  readonly picture: ScenePicture
  /** From image px of the reference frame to image px of this one. */
  readonly frameFromReference: Float64Array
}

/** Pictures of a clip laid over its first one. */
export interface SteadyPictures {
  readonly pictures: readonly SteadyPicture[]
  /** The camera was in a hand or panned. */
  readonly hasMoved: boolean
}

/** Focal lengths that phones have, share of the picture's longer side: 26, 36 and 54 mm equivalent. */
const FOCALS = [1, 0.72, 1.5] as const
/** A camera that turned less than this, share of the width, is followed as well by any of them. */
const LITTLE = 0.02
/** Displacements below this are not worth drawing a picture anew, decoded px. */
const LEAST_PX = 0.3
/** So much of what is looked for in a picture must be found again. */
const LEAST_SHARE = 0.35
const STILL = Float64Array.of(1, 0, 0, 0, 1, 0, 0, 0, 1)

/**
 * Lays pictures over the first one, for a camera in the hand or one that pans: a camera that turns about its place
 * moves the whole picture by one projection. The focal length that it takes is not known yet; of a few the one that
 * explains the motion best counts.
 *
 * @param frames of one view, colour, display order; what moves in them is left out as what does not go with the rest
 * @param size of the displayed picture, px
 * @returns the pictures in the first one's view; those that cannot be laid over it are missing
 */
export function steadyPictures(frames: readonly Frame[], size: PictureSize): SteadyPictures {
  const reference = frames[0]!
  const longestPx = Math.max(size.widthPx, size.heightPx)
  const followed = (focal: number) => followAll(frames, size, focal * longestPx)
  let best = followed(FOCALS[0])
  const most = Math.max(...best.flatMap((one) => (one === null ? [] : [displacementPx(one.frameFromReference, size)])))
  if (most > LITTLE * size.widthPx) {
    for (const focal of FOCALS.slice(1)) {
      const other = followed(focal)
      if (costOf(other) < costOf(best)) best = other
    }
  }
  const leastPx = LEAST_PX / reference.view.scale
  let hasMoved = false
  const pictures = frames.flatMap((frame, k): SteadyPicture[] => {
    const motion = best[k]!
    // Without texture around nothing can be followed: then the camera counts as still, as on a tripod.
    const map = motion?.frameFromReference ?? (isBlank(best) ? STILL : null)
    if (map === null) return []
    const isStill = displacementPx(map, size) < leastPx
    if (!isStill) hasMoved = true
    return [{ frame, frameFromReference: map, picture: pictureOf(frame, reference.view, isStill ? null : map) }]
  })
  return { pictures, hasMoved }
}

function followAll(frames: readonly Frame[], size: PictureSize, focalPx: number): (CameraMotion | null)[] {
  const centre = { xPx: size.widthPx / 2, yPx: size.heightPx / 2 }
  const follower = new CameraFollower(frames[0]!, {
    focalPx,
    centre,
    seesaw: { xPx: centre.xPx, yPx: 0.6 * size.heightPx },
    nearPx: 0.25 * size.widthPx,
    moving: () => false,
  })
  return frames.map((frame) => {
    const motion = follower.follow(frame)
    return motion === null || motion.agreed < LEAST_SHARE * motion.looked ? null : motion
  })
}

function isBlank(motions: readonly (CameraMotion | null)[]): boolean {
  return motions.filter((one) => one !== null).length < motions.length / 2
}

/** What patches are off by, the lost pictures counted as far off. */
function costOf(motions: readonly (CameraMotion | null)[]): number {
  return motions.reduce((sum, one) => sum + Math.min(4, one?.residualPx ?? 4), 0)
}

/** How far the picture's corners and middle are moved at most, px. */
function displacementPx(map: Float64Array, { widthPx, heightPx }: PictureSize): number {
  const places = [0, 0.5, 1].flatMap((x) => [0, 0.5, 1].map((y) => ({ xPx: x * widthPx, yPx: y * heightPx })))
  return Math.max(
    ...places.map((place) => {
      const { xPx, yPx } = mapImage(map, place)
      return Math.hypot(xPx - place.xPx, yPx - place.yPx)
    }),
  )
}

import type { GroundedMarks, RestMarks } from '../board/marks.ts'
import type { PictureSize, SeesawCamera } from '../calibration/seesaw-camera.ts'
import { type CameraMotion, mapImage } from '../camera/camera-motion.ts'
import { cutPatch, findPatch } from '../camera/patch.ts'
import { multiply3 } from '../camera/rotation.ts'
import type { Frame, View } from '../clip/frame.ts'
import { columnOf, rowOf } from '../clip/sampling.ts'
import type { ImagePx } from '../geometry/points.ts'
import { median } from '../numeric/robust.ts'
import { seesawCameraFollower } from '../scene/watch.ts'
import { likeness } from './likeness.ts'

/** Marks of one clip carried over to another one of the same place. */
export interface CarriedMarks {
  readonly rest: RestMarks
  /** From image px of the marked frame to image px of the other clip's frame. */
  readonly motion: CameraMotion
  /** How alike both pictures look around the marks, the least but one of all: 1 the same. */
  readonly likeness: number
}

/** Half side of the square that is compared around a mark, in plank lengths. */
const SQUARE = 0.03
/** One place may be hidden by a dog or a leg; the others must look the same. */
const LIKE_ENOUGH = 0.75
/** Share of the picture's textured places that must have stayed where they were to one another. */
const AGREED_SHARE = 0.5
const LEAST_AGREED = 5
/** Then no better motion is looked for. */
const AGREED_ENOUGH = 0.75
/** Turns about the camera's own axis to begin with, rad: patches are found from some px away. */
const ROLLS_RAD = [0, 0.01, -0.01, 0.02, -0.02, 0.03, -0.03]

/**
 * Carries the marks of the resting board over to a clip filmed from the same place: the surroundings say how the
 * camera was turned in between, and the picture around each carried mark must look as it did around the old one.
 *
 * @param marks of the known clip; `marked` is the frame that they were made in
 * @param marked see `marks`
 * @param camera calibrated from these marks
 * @param picture size of both clips' displayed pictures, px
 * @param frames of the other clip in which the board may rest, in any order; the one that looks most alike is taken
 * @returns the carried marks with the frame's index; null where the places are not the same or the board has been moved
 */
export function carryMarks(
  marks: RestMarks,
  marked: Frame,
  camera: SeesawCamera,
  picture: PictureSize,
  frames: readonly Frame[],
): CarriedMarks | null {
  const carried = frames.flatMap((frame) => {
    const one = carriedTo(marks, marked, camera, picture, frame)
    return one === null ? [] : [one]
  })
  if (carried.length === 0) return null
  return carried.reduce((a, b) => (b.likeness > a.likeness ? b : a))
}

/**
 * Carries the marks of the grounded board over, and finds a frame in which the plank lies there.
 *
 * @param marks of the known clip; `marked` is the frame that they were made in
 * @param marked see `marks`
 * @param motion of the camera, from image px of `marked` to image px of the other clip
 * @param frames of the other clip, any order
 * @returns the carried marks with the index of the frame that looks most alike; null where none does
 */
export function carryGrounded(
  marks: GroundedMarks,
  marked: Frame,
  motion: Float64Array,
  frames: readonly Frame[],
): GroundedMarks | null {
  const { entryEnd, exitEnd } = marks
  const halfPx = SQUARE * Math.hypot(exitEnd.xPx - entryEnd.xPx, exitEnd.yPx - entryEnd.yPx)
  let best: { frame: Frame; like: number } | null = null
  for (const frame of frames) {
    // The dog may stand on one end, not on both: the landed end and the raised one are judged together.
    const all = [entryEnd, exitEnd].map((at) => likeness(marked, at, frame, motion, halfPx) ?? 0)
    const like = Math.min(...all)
    if (best === null || like > best.like) best = { frame, like }
  }
  if (best === null || best.like < LIKE_ENOUGH) return null
  return { frame: best.frame.index, entryEnd: mapImage(motion, entryEnd), exitEnd: mapImage(motion, exitEnd) }
}

function carriedTo(
  marks: RestMarks,
  marked: Frame,
  camera: SeesawCamera,
  picture: PictureSize,
  frame: Frame,
): CarriedMarks | null {
  const motion = motionTo(frame, marked, camera, picture)
  if (motion === null || motion.agreed < LEAST_AGREED || motion.agreed < AGREED_SHARE * motion.looked) return null
  const nudged = withSeesawShift(motion, marks, marked, frame)
  const { entryEnd, exitEnd, pivot, upContactEdge, downContactEdge } = marks
  const halfPx = SQUARE * Math.hypot(exitEnd.xPx - entryEnd.xPx, exitEnd.yPx - entryEnd.yPx)
  const likes = [entryEnd, exitEnd, pivot, upContactEdge, downContactEdge].map(
    (at) => likeness(marked, at, frame, nudged.frameFromReference, halfPx) ?? 0,
  )
  const like = likes.sort((a, b) => a - b)[1]!
  if (like < LIKE_ENOUGH) return null
  const to = (at: ImagePx) => mapImage(nudged.frameFromReference, at)
  return {
    rest: {
      frame: frame.index,
      entryEnd: to(entryEnd),
      exitEnd: to(exitEnd),
      pivot: to(pivot),
      upContactEdge: to(upContactEdge),
      downContactEdge: to(downContactEdge),
    },
    motion: nudged,
    likeness: like,
  }
}

/** The motion with the little that the seesaw itself was pushed, or the surroundings could not tell. */
function withSeesawShift(motion: CameraMotion, marks: RestMarks, marked: Frame, frame: Frame): CameraMotion {
  const { view } = frame
  const dx: number[] = []
  const dy: number[] = []
  for (const at of [marks.entryEnd, marks.exitEnd, marks.upContactEdge, marks.downContactEdge]) {
    const patch = cutPatch(marked, Math.round(columnOf(marked.view, at.xPx)), Math.round(rowOf(marked.view, at.yPx)))
    if (patch === null) continue
    const centre = imageOf(marked.view, patch.column, patch.row)
    const there = mapImage(motion.frameFromReference, centre)
    const found = findPatch(patch, frame, columnOf(view, there.xPx), rowOf(view, there.yPx))
    if (found === null) continue
    const seen = imageOf(view, found.column, found.row)
    dx.push(seen.xPx - there.xPx)
    dy.push(seen.yPx - there.yPx)
  }
  if (dx.length < 3) return motion
  const shift = Float64Array.of(1, 0, median(dx), 0, 1, median(dy), 0, 0, 1)
  return { ...motion, frameFromReference: multiply3(shift, motion.frameFromReference) }
}

function imageOf(view: View, column: number, row: number): ImagePx {
  return { xPx: view.originXPx + (column + 0.5) / view.scale, yPx: view.originYPx + (row + 0.5) / view.scale }
}

/** The camera's motion between the clips; a phone that was clamped anew may also be turned about its own axis. */
function motionTo(frame: Frame, marked: Frame, camera: SeesawCamera, picture: PictureSize): CameraMotion | null {
  let best: CameraMotion | null = null
  for (const rollRad of ROLLS_RAD) {
    const follower = seesawCameraFollower(marked, camera, picture)
    follower.startFrom(rolled(rollRad, picture))
    const motion = follower.follow(frame)
    if (motion === null || (best !== null && motion.agreed <= best.agreed)) continue
    best = motion
    if (motion.agreed >= AGREED_ENOUGH * motion.looked) break
  }
  return best
}

/** The picture turned about its middle. */
function rolled(rollRad: number, { widthPx, heightPx }: PictureSize): Float64Array {
  const [sin, cos] = [Math.sin(rollRad), Math.cos(rollRad)]
  const [x, y] = [widthPx / 2, heightPx / 2]
  return Float64Array.of(cos, -sin, x - cos * x + sin * y, sin, cos, y - sin * x - cos * y, 0, 0, 1)
}

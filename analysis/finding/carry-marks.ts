import type { GroundedMarks, RestMarks } from '../board/marks.ts'
import type { PictureSize, SeesawCamera } from '../calibration/seesaw-camera.ts'
import { type CameraMotion, mapImage } from '../camera/camera-motion.ts'
import { cutPatch, findPatch, searchPatch } from '../camera/patch.ts'
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
  /** How far the seesaw itself was moved in the picture beyond what the camera was, full-resolution px. */
  readonly movedPx: number
  /** Root mean square distance of what is seen around the marks from where they were carried to, full-resolution px. */
  readonly misfitPx: number
}

/** Grounded marks carried over, and the frames that look as if the plank lay there, the likeliest first. */
export interface CarriedGrounded {
  readonly grounded: GroundedMarks
  readonly frames: readonly number[]
}

/** A seesaw that was moved further than this between the rides is marked anew, in plank lengths. */
const MOST_MOVED = 0.06
/** Places that were moved with the seesaw agree this well, decoded px. */
const AGREED_PX = 3
const LEAST_MOVED_PLACES = 3
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
 * @returns the carried marks in the frame that looks most alike; null where none does
 */
export function carryGrounded(
  marks: GroundedMarks,
  marked: Frame,
  motion: Float64Array,
  frames: readonly Frame[],
): CarriedGrounded | null {
  const { entryEnd, exitEnd } = marks
  const halfPx = SQUARE * Math.hypot(exitEnd.xPx - entryEnd.xPx, exitEnd.yPx - entryEnd.yPx)
  const alike = frames
    .map(({ index }, k) => {
      // The dog may stand on one end, not on both: the landed end and the raised one are judged together.
      const likes = [entryEnd, exitEnd].map((at) => likeness(marked, at, frames[k]!, motion, halfPx) ?? 0)
      return { index, like: Math.min(...likes) }
    })
    .filter(({ like }) => like >= LIKE_ENOUGH)
    .sort((a, b) => b.like - a.like)
  const [best] = alike
  if (best === undefined) return null
  return {
    grounded: { frame: best.index, entryEnd: mapImage(motion, entryEnd), exitEnd: mapImage(motion, exitEnd) },
    frames: alike.map(({ index }) => index),
  }
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
  const moved = seesawShift(motion, marks, marked, frame)
  const shift = Float64Array.of(1, 0, moved.byPx.xPx, 0, 1, moved.byPx.yPx, 0, 0, 1)
  const nudged = { ...motion, frameFromReference: multiply3(shift, motion.frameFromReference) }
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
    movedPx: Math.hypot(moved.byPx.xPx, moved.byPx.yPx),
    misfitPx: moved.misfitPx,
  }
}

interface SeesawShift {
  readonly byPx: ImagePx
  readonly misfitPx: number
}

/** How far the seesaw itself was moved, or the surroundings could not tell: what most of its marked places agree on. */
function seesawShift(motion: CameraMotion, marks: RestMarks, marked: Frame, frame: Frame): SeesawShift {
  const { entryEnd, exitEnd, upContactEdge, downContactEdge } = marks
  const reachPx = MOST_MOVED * Math.hypot(exitEnd.xPx - entryEnd.xPx, exitEnd.yPx - entryEnd.yPx)
  const shifts = [entryEnd, exitEnd, upContactEdge, downContactEdge].flatMap(
    (at) => placeShift(motion, at, marked, frame, reachPx) ?? [],
  )
  const agreedPx = AGREED_PX / frame.view.scale
  const groups = shifts.map((one) => shifts.filter((other) => apartPx(one, other) < agreedPx))
  const most = groups.reduce<readonly ImagePx[]>((a, b) => (b.length > a.length ? b : a), [])
  if (most.length < LEAST_MOVED_PLACES) return { byPx: { xPx: 0, yPx: 0 }, misfitPx: Infinity }
  const byPx = { xPx: median(most.map(({ xPx }) => xPx)), yPx: median(most.map(({ yPx }) => yPx)) }
  return { byPx, misfitPx: Math.sqrt(most.reduce((sum, one) => sum + apartPx(one, byPx) ** 2, 0) / most.length) }
}

/** How far the picture around a mark lies from where the camera's motion puts it; null where it is not found again. */
function placeShift(motion: CameraMotion, at: ImagePx, marked: Frame, frame: Frame, reachPx: number): ImagePx | null {
  const patch = cutPatch(marked, Math.round(columnOf(marked.view, at.xPx)), Math.round(rowOf(marked.view, at.yPx)))
  if (patch === null) return null
  const { view } = frame
  const there = mapImage(motion.frameFromReference, imageOf(marked.view, patch.column, patch.row))
  const [column, row] = [columnOf(view, there.xPx), rowOf(view, there.yPx)]
  const near = searchPatch(patch, frame, column, row, 2 * Math.ceil((reachPx * view.scale) / 2))
  const found = near === null ? null : findPatch(patch, frame, near.column, near.row)
  if (found === null) return null
  const seen = imageOf(view, found.column, found.row)
  return { xPx: seen.xPx - there.xPx, yPx: seen.yPx - there.yPx }
}

function apartPx(a: ImagePx, b: ImagePx): number {
  return Math.hypot(a.xPx - b.xPx, a.yPx - b.yPx)
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

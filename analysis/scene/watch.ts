import type { SeesawCamera } from '../calibration/seesaw-camera.ts'
import { CameraFollower, mapImage, type CameraMotion } from '../camera/camera-motion.ts'
import type { Frame } from '../clip/frame.ts'
import { bilinear, columnOf, rowOf } from '../clip/sampling.ts'
import type { PictureSize } from '../calibration/seesaw-camera.ts'
import type { ImagePx } from '../geometry/points.ts'

/** A picture of the scan that is kept, with its camera motion. */
export interface KeptFrame {
  readonly frame: Frame
  readonly motion: CameraMotion
}

/** A part of the clip in which something happens at the seesaw, s of real time. */
export interface BusyStretch {
  readonly fromS: number
  readonly toS: number
}

const KEEP_QUIET = 14
const KEEP_BUSY = 24
/** Grey levels by which a place must differ from the empty, resting seesaw to count. */
const DIFFERENT = 22
/** Share of places that must differ. */
const BUSY_SHARE = 0.035
const BEFORE_S = 1.6
const AFTER_S = 1.2
const JOIN_S = 3
/** Where the seesaw may be, so that the camera is not followed by it: beyond its ends, below and above the plank, m. */
const SEESAW_M = { beside: 0.05, below: -0.12, above: 0.3 }
/** Surroundings count as near within this share of the plank's width in the picture. */
const NEAR_SHARE = 0.25
/** Where something that comes to the board is looked for: places this far apart, m, along and above the plank. */
const LOOKED_AT = { besideM: 0.3, alongStepM: 0.08, fromAboveM: -0.03, toAboveM: 0.3, aboveStepM: 0.06 }

/**
 * A camera follower for the seesaw's clip: it looks away from the plank's sweep and gives the ground below the pivot
 * the say about parallax.
 * @param picture size of the displayed picture, px
 * @param reference the frame of the rest marks
 */
export function seesawCameraFollower(reference: Frame, camera: SeesawCamera, picture: PictureSize): CameraFollower {
  const corners = [camera.restAngleRad, camera.groundedAngleRad].flatMap((angleRad) =>
    [-SEESAW_M.beside, camera.lengthM + SEESAW_M.beside].flatMap((alongM) =>
      [SEESAW_M.below, SEESAW_M.above].map((aboveM) => camera.imageFromPlank({ alongM, aboveM, acrossM: 0 }, angleRad)),
    ),
  )
  const x0 = Math.min(...corners.map((p) => p.xPx))
  const x1 = Math.max(...corners.map((p) => p.xPx))
  const y0 = Math.min(...corners.map((p) => p.yPx))
  const y1 = Math.max(...corners.map((p) => p.yPx))
  const seesaw = camera.imageFromWorld({ xM: 0, yM: 0, acrossM: camera.widthM / 2 })
  return new CameraFollower(reference, {
    focalPx: camera.focalPx,
    centre: { xPx: picture.widthPx / 2, yPx: picture.heightPx / 2 },
    seesaw,
    nearPx: NEAR_SHARE * (x1 - x0),
    moving: (p) => p.xPx > x0 && p.xPx < x1 && p.yPx > y0 && p.yPx < y1,
  })
}

/**
 * Watches a scan of the clip: tells when something happens at the seesaw, and keeps a limited number of pictures of
 * quiet and of busy times from which the scene can be learnt.
 */
export class Watch {
  readonly #follower: CameraFollower
  readonly #places: readonly ImagePx[]
  readonly #quietLook: Float32Array
  readonly #quiet: KeptFrame[] = []
  readonly #busy: KeptFrame[] = []
  #quietStep = 1
  #busyStep = 1
  #quietCount = 0
  #busyCount = 0
  readonly #busyTimesS: number[] = []
  readonly #motions: Float64Array[] = []

  /** @param reference the frame of the rest marks: the board at rest, no dog on it */
  constructor(reference: Frame, camera: SeesawCamera, follower: CameraFollower) {
    this.#follower = follower
    const places: ImagePx[] = []
    const { besideM, alongStepM, fromAboveM, toAboveM, aboveStepM } = LOOKED_AT
    for (let alongM = -besideM; alongM <= camera.lengthM + besideM; alongM += alongStepM) {
      for (let aboveM = fromAboveM; aboveM <= toAboveM; aboveM += aboveStepM) {
        places.push(camera.imageFromPlank({ alongM, aboveM, acrossM: 0 }, camera.restAngleRad))
      }
    }
    this.#places = places
    const still = Float64Array.of(1, 0, 0, 0, 1, 0, 0, 0, 1)
    this.#quietLook = look(reference, places, still)
  }

  /** Takes a scan frame; its arrays are copied when it is kept. Nothing is learnt from a damaged one. */
  add(frame: Frame): void {
    if (frame.isDamaged === true) return
    const motion = this.#follower.follow(frame)
    if (motion === null) return
    this.#motions.push(motion.frameFromReference)
    const now = look(frame, this.#places, motion.frameFromReference)
    let different = 0
    let known = 0
    for (let i = 0; i < now.length; i++) {
      const d = Math.abs(now[i]! / motion.gain - this.#quietLook[i]!)
      if (Number.isNaN(d)) continue
      known++
      if (d > DIFFERENT) different++
    }
    if (known > 0 && different > BUSY_SHARE * known) {
      this.#busyTimesS.push(frame.ptsS)
      if (this.#busyCount++ % this.#busyStep === 0) this.#busy.push({ frame: copy(frame), motion })
      if (this.#busy.length > 2 * KEEP_BUSY) {
        thin(this.#busy)
        this.#busyStep *= 2
      }
    } else {
      if (this.#quietCount++ % this.#quietStep === 0) this.#quiet.push({ frame: copy(frame), motion })
      if (this.#quiet.length > 2 * KEEP_QUIET) {
        thin(this.#quiet)
        this.#quietStep *= 2
      }
    }
  }

  /** Pictures to learn the scene from, in order of time. */
  stills(): KeptFrame[] {
    return [...evenly(this.#quiet, KEEP_QUIET), ...evenly(this.#busy, KEEP_BUSY)].sort(
      (a, b) => a.frame.index - b.frame.index,
    )
  }

  /** The largest distance that a corner of the given rectangle moved, image px. */
  reachPx(corners: readonly ImagePx[]): number {
    let reach = 0
    for (const motion of this.#motions) {
      for (const c of corners) {
        const p = mapImage(motion, c)
        reach = Math.max(reach, Math.hypot(p.xPx - c.xPx, p.yPx - c.yPx))
      }
    }
    return reach
  }

  /** When something happened, s, rising. */
  get busyTimesS(): readonly number[] {
    return this.#busyTimesS
  }
}

/**
 * The parts of a clip in which something happens, with time before and after for approach and leaving.
 *
 * @param timesS when something happened, s of real time, rising
 * @returns in order, each apart from the next
 */
export function busyStretches(timesS: readonly number[]): BusyStretch[] {
  const out: { fromS: number; toS: number }[] = []
  for (const t of timesS) {
    const last = out[out.length - 1]
    if (last !== undefined && t - last.toS < JOIN_S) last.toS = t
    else out.push({ fromS: t, toS: t })
  }
  return out.map((s) => ({ fromS: s.fromS - BEFORE_S, toS: s.toS + AFTER_S }))
}

function look(frame: Frame, places: readonly ImagePx[], frameFromReference: Float64Array): Float32Array {
  const { view } = frame
  return Float32Array.from(places, (place) => {
    const p = mapImage(frameFromReference, place)
    return bilinear(frame.y, view.widthPx, view.heightPx, columnOf(view, p.xPx), rowOf(view, p.yPx))
  })
}

function copy(frame: Frame): Frame {
  return { ...frame, y: frame.y.slice(), u: frame.u.slice(), v: frame.v.slice() }
}

function thin(frames: KeptFrame[]): void {
  for (let i = 0; i < frames.length / 2; i++) frames[i] = frames[2 * i]!
  frames.length = Math.ceil(frames.length / 2)
}

function evenly(frames: readonly KeptFrame[], count: number): KeptFrame[] {
  if (frames.length <= count) return [...frames]
  return Array.from({ length: count }, (_, i) => frames[Math.round((i * (frames.length - 1)) / (count - 1))]!)
}

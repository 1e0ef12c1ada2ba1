import type { Frame, View } from '../clip/frame.ts'
import { columnOf, rowOf } from '../clip/sampling.ts'
import { applyHomography, invertHomography } from '../geometry/homography.ts'
import type { ImagePx } from '../geometry/points.ts'
import { solveLinear } from '../numeric/matrix.ts'
import { median } from '../numeric/robust.ts'
import { findPatch, pickPatches, searchPatch, type Patch } from './patch.ts'
import { composeRotations, multiply3, rotationMatrix, type RotationVector } from './rotation.ts'

/** Anchors cut from a frame at most. */
const MOST_ANCHORS = 14
/** No anchor is looked for nearer to the picture's border than this, decoded px; strong ones less near, since they are sought further. */
const BORDER_PX = 8
const STRONG_BORDER_PX = 20
const STRONG_REACH_PX = 40
const MOST_STRONG = 15
/** An anchor that differs more than this where it fits best is hidden, grey levels. */
const MOST_RESIDUAL = 25
/** Sights are believed to this at least, px, and to so many times their median misfit. */
const LEAST_SCALE_PX = 0.12
const SCALES = 1.2
/** The turn is settled once it moves the picture by less than this, px. */
const SETTLED_PX = 0.002
/** From this robust weight on a sight agrees. */
const AGREES = 0.2
/** Sights further from the seesaw than so many times what counts as near say nothing of its shift. */
const FAR = 1.5
/** A sight is off the common shift from this on, px, or from so many times the scale of the fit. */
const OFF_SHIFT_PX = 0.6
const OFF_SCALES = 4

/** How one frame's picture lies to the reference frame's. */
export interface CameraMotion {
  /** Maps reference-frame image px to this frame's image px, exact for the seesaw's surroundings. */
  readonly frameFromReference: Float64Array
  /** Root mean square distance of the patches used, image px. */
  readonly residualPx: number
  /** Patches that agreed, and how many were looked for. */
  readonly agreed: number
  readonly looked: number
  /** Brightness of this frame over the reference frame's (exposure flicker); 1 where few patches agree. */
  readonly gain: number
}

/** A patch with the place that it has in the reference frame. */
interface Anchor {
  readonly patch: Patch
  readonly reference: ImagePx
}

/**
 * Follows the camera: handheld shake and slow pans, as a rotation of the camera (three angles) and a small shift
 * that the things near the seesaw share (parallax of a moving hand). Patches are never updated, so nothing drifts.
 */
export class CameraFollower {
  readonly #centre: ImagePx
  readonly #focalPx: number
  readonly #seesaw: ImagePx
  readonly #nearPx: number
  readonly #moving: (point: ImagePx) => boolean
  readonly #anchors: Anchor[] = []
  #last: { rotation: RotationVector; shift: ImagePx } = { rotation: [0, 0, 0], shift: { xPx: 0, yPx: 0 } }

  /**
   * @param reference the frame whose image px all others are mapped from
   * @param options.focalPx calibrated focal length; `centre`: principal point; `seesaw`: the ground below the pivot;
   * `nearPx`: how far from there things count as near it, all in image px; `moving` says where not to look
   * (the plank's sweep, in reference image px)
   */
  constructor(
    reference: Frame,
    options: {
      readonly focalPx: number
      readonly centre: ImagePx
      readonly seesaw: ImagePx
      readonly nearPx: number
      readonly moving: (point: ImagePx) => boolean
    },
  ) {
    this.#centre = options.centre
    this.#focalPx = options.focalPx
    this.#seesaw = options.seesaw
    this.#nearPx = options.nearPx
    this.#moving = options.moving
    this.#addAnchors(reference, null)
  }

  /** How many places in the picture are being watched. */
  get anchorCount(): number {
    return this.#anchors.length
  }

  /** Starts the next search from a known motion instead of the last one. */
  startFrom(frameFromReference: Float64Array): void {
    const p = mapImage(frameFromReference, this.#centre)
    const q = mapImage(frameFromReference, { xPx: this.#centre.xPx + 100, yPx: this.#centre.yPx })
    this.#last = {
      rotation: [
        -(p.yPx - this.#centre.yPx) / this.#focalPx,
        (p.xPx - this.#centre.xPx) / this.#focalPx,
        (q.yPx - p.yPx) / 100,
      ],
      shift: { xPx: 0, yPx: 0 },
    }
  }

  /**
   * Finds how a frame lies to the reference.
   *
   * @param frame any view of the same clip; call in display order, or after {@link startFrom}
   * @returns null where too few patches agree (picture black, camera swung away)
   */
  follow(frame: Frame): CameraMotion | null {
    let best = this.#tryFrom(frame, this.#last.rotation, this.#last.shift)
    if (best === null || best.motion.agreed < 0.5 * best.motion.looked) {
      const jerk = this.#coarseJerk(frame)
      if (jerk !== null) {
        const retry = this.#tryFrom(frame, jerk, { xPx: 0, yPx: 0 })
        if (retry !== null && (best === null || retry.motion.agreed > best.motion.agreed)) best = retry
      }
    }
    if (best === null) return null
    this.#last = best
    if (best.motion.looked < 12) this.#addAnchors(frame, best.motion.frameFromReference)
    return best.motion
  }

  #addAnchors(frame: Frame, frameFromReference: Float64Array | null): void {
    const view = frame.view
    const referenceFromFrame = frameFromReference === null ? null : invertHomography(frameFromReference)
    const inReference = (column: number, row: number): ImagePx => {
      const p = imagePoint(view, column, row)
      return referenceFromFrame === null ? p : mapImage(referenceFromFrame, p)
    }
    for (const patch of pickPatches(frame, (c, r) => !this.#moving(inReference(c, r)), MOST_ANCHORS)) {
      const reference = inReference(patch.column, patch.row)
      const close = this.#anchors.some(
        (a) => Math.hypot(a.reference.xPx - reference.xPx, a.reference.yPx - reference.yPx) * view.scale < 12,
      )
      if (!close) this.#anchors.push({ patch, reference })
    }
  }

  #tryFrom(frame: Frame, start: RotationVector, startShift: ImagePx): Found | null {
    const view = frame.view
    const guess = this.#homography(start, startShift)
    const found: Sight[] = []
    let looked = 0
    for (const anchor of this.#anchors) {
      const p = mapImage(guess, anchor.reference)
      const column = columnOf(view, p.xPx)
      const row = rowOf(view, p.yPx)
      if (
        column < BORDER_PX ||
        row < BORDER_PX ||
        column > view.widthPx - 1 - BORDER_PX ||
        row > view.heightPx - 1 - BORDER_PX
      )
        continue
      looked++
      const hit = findPatch(anchor.patch, frame, column, row)
      if (hit === null || hit.residual > MOST_RESIDUAL) continue
      found.push({
        reference: anchor.reference,
        seen: imagePoint(view, hit.column, hit.row),
        gain: hit.meanLuma / Math.max(1, anchor.patch.meanLuma),
      })
    }
    if (found.length < 4) return null
    const fit = this.#fitRotation(found, start)
    const shift = this.#nearShift(found, fit)
    const all = this.#homography(fit.rotation, shift)
    return {
      rotation: fit.rotation,
      shift,
      motion: {
        frameFromReference: all,
        residualPx: fit.scalePx,
        agreed: fit.agreed,
        looked,
        gain: sharedGain(found, fit.weights),
      },
    }
  }

  /** Robust (Tukey) Gauss-Newton over three rotation angles. */
  #fitRotation(
    sights: readonly Sight[],
    start: RotationVector,
  ): { rotation: RotationVector; scalePx: number; agreed: number; weights: Float64Array } {
    let rotation = start
    const weights = new Float64Array(sights.length).fill(1)
    const distances = new Float64Array(sights.length)
    let scalePx = Infinity
    for (let iteration = 0; iteration < 12; iteration++) {
      const h = this.#homography(rotation, { xPx: 0, yPx: 0 })
      const n = new Float64Array(9)
      const b = new Float64Array(3)
      for (let i = 0; i < sights.length; i++) {
        const s = sights[i]!
        const p = mapImage(h, s.reference)
        distances[i] = Math.hypot(s.seen.xPx - p.xPx, s.seen.yPx - p.yPx)
      }
      scalePx = Math.max(LEAST_SCALE_PX, SCALES * median(distances))
      const cut = 4 * scalePx
      for (let i = 0; i < sights.length; i++) {
        const u = distances[i]! / cut
        weights[i] = iteration < 2 ? 1 / (1 + (distances[i]! / scalePx) ** 2) : u < 1 ? (1 - u * u) ** 2 : 0
        const s = sights[i]!
        const p = mapImage(h, s.reference)
        const X = p.xPx - this.#centre.xPx
        const Y = p.yPx - this.#centre.yPx
        const f = this.#focalPx
        // Small rotation (wx, wy, wz) of the ray (X, Y, f): image moves by these rows.
        const jx: RotationVector = [-(X * Y) / f, f + (X * X) / f, -Y]
        const jy: RotationVector = [-(f + (Y * Y) / f), (X * Y) / f, X]
        const rx = s.seen.xPx - p.xPx
        const ry = s.seen.yPx - p.yPx
        for (let r = 0; r < 3; r++) {
          b[r]! += weights[i]! * (jx[r]! * rx + jy[r]! * ry)
          for (let c = 0; c < 3; c++) n[3 * r + c]! += weights[i]! * (jx[r]! * jx[c]! + jy[r]! * jy[c]!)
        }
      }
      const solved = solveLinear(n, b, 3)
      if (solved === null) break
      const step: RotationVector = [solved[0]!, solved[1]!, solved[2]!]
      rotation = composeRotations(step, rotation)
      if (Math.hypot(...step) * this.#focalPx < SETTLED_PX) break
    }
    let agreed = 0
    for (const w of weights) if (w > AGREES) agreed++
    return { rotation, scalePx, agreed, weights }
  }

  /** What the things around the seesaw's base moved beyond the rotation: robust mean, drawn to 0 where few are seen. */
  #nearShift(sights: readonly Sight[], fit: { rotation: RotationVector; scalePx: number }): ImagePx {
    const h = this.#homography(fit.rotation, { xPx: 0, yPx: 0 })
    let dx = 0
    let dy = 0
    for (let iteration = 0; iteration < 5; iteration++) {
      let sw = 0.5
      let sx = 0
      let sy = 0
      for (const s of sights) {
        const far = Math.hypot(s.reference.xPx - this.#seesaw.xPx, s.reference.yPx - this.#seesaw.yPx) / this.#nearPx
        if (far > FAR) continue
        const p = mapImage(h, s.reference)
        const rx = s.seen.xPx - p.xPx
        const ry = s.seen.yPx - p.yPx
        const u = Math.hypot(rx - dx, ry - dy) / Math.max(OFF_SHIFT_PX, OFF_SCALES * fit.scalePx)
        if (u >= 1) continue
        const w = Math.exp(-2 * far * far) * (1 - u * u) ** 2
        sw += w
        sx += w * rx
        sy += w * ry
      }
      dx = sx / sw
      dy = sy / sw
    }
    return { xPx: dx, yPx: dy }
  }

  /** A jerk too large for fine search: the median jump of a few strong patches over a wide range. */
  #coarseJerk(frame: Frame): RotationVector | null {
    const view = frame.view
    const guess = this.#homography(this.#last.rotation, this.#last.shift)
    const strong = [...this.#anchors]
      .filter((a) => {
        const p = mapImage(guess, a.reference)
        const c = columnOf(view, p.xPx)
        const r = rowOf(view, p.yPx)
        return (
          c > STRONG_BORDER_PX &&
          r > STRONG_BORDER_PX &&
          c < view.widthPx - STRONG_BORDER_PX &&
          r < view.heightPx - STRONG_BORDER_PX
        )
      })
      .sort((a, b) => b.patch.normal[0] + b.patch.normal[2] - a.patch.normal[0] - a.patch.normal[2])
      .slice(0, MOST_STRONG)
    if (strong.length < 4) return null
    const dx: number[] = []
    const dy: number[] = []
    for (const a of strong) {
      const p = mapImage(guess, a.reference)
      const hit = searchPatch(a.patch, frame, columnOf(view, p.xPx), rowOf(view, p.yPx), STRONG_REACH_PX)
      if (hit === null) continue
      const q = imagePoint(view, hit.column, hit.row)
      dx.push(q.xPx - p.xPx)
      dy.push(q.yPx - p.yPx)
    }
    if (dx.length < 4) return null
    const f = this.#focalPx
    return composeRotations([-median(dy) / f, median(dx) / f, 0], this.#last.rotation)
  }

  #homography(rotation: RotationVector, shift: ImagePx): Float64Array {
    const r = rotationMatrix(rotation)
    const f = this.#focalPx
    const k = Float64Array.of(f, 0, this.#centre.xPx + shift.xPx, 0, f, this.#centre.yPx + shift.yPx, 0, 0, 1)
    const kInverse = Float64Array.of(1 / f, 0, -this.#centre.xPx / f, 0, 1 / f, -this.#centre.yPx / f, 0, 0, 1)
    const h = multiply3(k, multiply3(r, kInverse))
    const last = h[8]!
    for (let i = 0; i < 9; i++) h[i]! /= last
    return h
  }
}

interface Sight {
  readonly reference: ImagePx
  readonly seen: ImagePx
  readonly gain: number
}
interface Found {
  readonly rotation: RotationVector
  readonly shift: ImagePx
  readonly motion: CameraMotion
}

/** Median brightness ratio of the patches that agreed; anchors cut later carry their own frame's brightness, so few frames matter. */
function sharedGain(sights: readonly Sight[], weights: Float64Array): number {
  const gains = sights.filter((_, i) => weights[i]! > AGREES).map((s) => s.gain)
  return gains.length < 6 ? 1 : median(gains)
}

function imagePoint(view: View, column: number, row: number): ImagePx {
  return { xPx: view.originXPx + (column + 0.5) / view.scale, yPx: view.originYPx + (row + 0.5) / view.scale }
}

/**
 * Maps an image point of one frame to another frame.
 *
 * @param homography 3 x 3 map between two frames' image px, row by row
 * @returns image px of the other frame
 */
export function mapImage(homography: Float64Array, point: ImagePx): ImagePx {
  const [xPx, yPx] = applyHomography(homography, point.xPx, point.yPx)
  return { xPx, yPx }
}

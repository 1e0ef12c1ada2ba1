import type { Board } from '../board/board.ts'
import { composeHomographies, homographyFromPoints } from '../geometry/homography.ts'
import type { ImagePx, PlankM } from '../geometry/points.ts'
import type { SeesawCamera } from './seesaw-camera.ts'

/** Where the camera stands and how the seesaw is built: all that decides where a plank point appears. */
export interface SeesawPose {
  readonly focalPx: number
  /** Where the optical axis meets the picture, px. */
  readonly principalXPx: number
  readonly principalYPx: number
  /** Radial lens distortion about the principal point: a point at r focal lengths appears at r (1 + distortion r²). */
  readonly distortion: number
  /** Camera turned to its right, rad; 0 looks straight at the plank's side. */
  readonly yawRad: number
  /** Camera tilted up, rad. */
  readonly pitchRad: number
  /** Camera turned clockwise about its optical axis, rad. */
  readonly rollRad: number
  /** Camera to the right of the pivot as seen in the picture, m. */
  readonly rightM: number
  /** Camera over the ground, m. */
  readonly heightM: number
  /** Camera in front of the plank's near edge, m. */
  readonly distanceM: number
  readonly restAngleRad: number
  readonly groundedAngleRad: number
  readonly axisBelowTopM: number
  readonly thicknessM: number
}

/**
 * The 3 x 4 projection of the standing world (x along travel, y up, across away from the camera, all m) to image px.
 *
 * The view frame is x right, y up, z away; `exitSide` = -1 mirrors travel into it, which keeps the camera's rotation
 * proper in both directions of travel.
 *
 * @param pose where the camera stands; its distortion is not part of a projection
 * @returns twelve numbers, row by row, positive last row in front of the camera
 */
export function worldProjection(pose: SeesawPose, exitSide: 1 | -1): Float64Array {
  const { focalPx, principalXPx, principalYPx, rightM, heightM, distanceM } = pose
  const sinYaw = Math.sin(pose.yawRad)
  const cosYaw = Math.cos(pose.yawRad)
  const sinPitch = Math.sin(pose.pitchRad)
  const cosPitch = Math.cos(pose.pitchRad)
  const sinRoll = Math.sin(pose.rollRad)
  const cosRoll = Math.cos(pose.rollRad)
  // Axes of the level camera in the view frame, then turned by the roll.
  const upX = -sinYaw * sinPitch
  const upY = cosPitch
  const upZ = -cosYaw * sinPitch
  const axes = [
    [cosRoll * cosYaw - sinRoll * upX, -sinRoll * upY, -cosRoll * sinYaw - sinRoll * upZ],
    [-sinRoll * cosYaw - cosRoll * upX, -cosRoll * upY, sinRoll * sinYaw - cosRoll * upZ],
    [sinYaw * cosPitch, sinPitch, cosYaw * cosPitch],
  ] as const
  const projection = new Float64Array(12)
  const forward = axes[2]
  const offset = (axis: readonly [number, number, number]): number =>
    -axis[0] * rightM - axis[1] * heightM + axis[2] * distanceM
  const rows = [
    [axes[0], principalXPx],
    [axes[1], principalYPx],
  ] as const
  for (let row = 0; row < 2; row++) {
    const [axis, principalPx] = rows[row]!
    projection[row * 4] = exitSide * (focalPx * axis[0] + principalPx * forward[0])
    projection[row * 4 + 1] = focalPx * axis[1] + principalPx * forward[1]
    projection[row * 4 + 2] = focalPx * axis[2] + principalPx * forward[2]
    projection[row * 4 + 3] = focalPx * offset(axis) + principalPx * offset(forward)
  }
  projection[8] = exitSide * forward[0]
  projection[9] = forward[1]
  projection[10] = forward[2]
  projection[11] = offset(forward)
  return projection
}

/** The calibrated camera of one pose: precomputes the projection, so that each point costs a few dozen operations. */
export class PinholeSeesaw implements SeesawCamera {
  readonly pose: SeesawPose
  readonly exitSide: 1 | -1
  readonly lengthM: number
  readonly widthM: number
  readonly axisHeightM: number
  readonly distanceToLandingM: number
  private readonly projection: Float64Array
  private bend: Float64Array | undefined
  private turnRad = 0
  private sin = 0
  private cos = 1

  constructor(pose: SeesawPose, board: Board, exitSide: 1 | -1) {
    this.pose = pose
    this.exitSide = exitSide
    this.lengthM = board.lengthM
    this.widthM = board.widthM
    this.axisHeightM = board.pivotHeightM - pose.axisBelowTopM
    this.projection = worldProjection(pose, exitSide)
    const landingM = (exitSide * board.lengthM * Math.cos(pose.groundedAngleRad)) / 2 - pose.rightM
    this.distanceToLandingM = Math.hypot(landingM, pose.heightM, pose.distanceM + board.widthM / 2)
  }

  get focalPx(): number {
    return this.pose.focalPx
  }
  get axisBelowTopM(): number {
    return this.pose.axisBelowTopM
  }
  get thicknessM(): number {
    return this.pose.thicknessM
  }
  get restAngleRad(): number {
    return this.pose.restAngleRad
  }
  get groundedAngleRad(): number {
    return this.pose.groundedAngleRad
  }

  imageFromPlank(point: PlankM, angleRad: number): ImagePx {
    this.turnTo(angleRad)
    const u = point.alongM - this.lengthM / 2
    const h = point.aboveM + this.pose.axisBelowTopM
    return this.project(u * this.cos + h * this.sin, this.axisHeightM + h * this.cos - u * this.sin, point.acrossM)
  }

  imageFromWorld(point: { readonly xM: number; readonly yM: number; readonly acrossM: number }): ImagePx {
    return this.project(point.xM, point.yM, point.acrossM)
  }

  plankFromImage(point: ImagePx, angleRad: number, acrossM: number): PlankM {
    this.turnTo(angleRad)
    const p = this.projection
    const { xPx, yPx } = this.straightFromImage(point)
    // Two linear equations in the world's x and y on the plane across = given.
    const a = p[0]! - xPx * p[8]!
    const b = p[1]! - xPx * p[9]!
    const c = p[4]! - yPx * p[8]!
    const d = p[5]! - yPx * p[9]!
    const e = -((p[2]! - xPx * p[10]!) * acrossM + p[3]! - xPx * p[11]!)
    const f = -((p[6]! - yPx * p[10]!) * acrossM + p[7]! - yPx * p[11]!)
    const determinant = a * d - b * c
    const x = (e * d - b * f) / determinant
    const y = (a * f - e * c) / determinant - this.axisHeightM
    return {
      alongM: x * this.cos - y * this.sin + this.lengthM / 2,
      aboveM: x * this.sin + y * this.cos - this.pose.axisBelowTopM,
      acrossM,
    }
  }

  homographyAt(angleRad: number, acrossM: number): Float64Array {
    this.turnTo(angleRad)
    const { cos, sin } = this
    const half = this.lengthM / 2
    const below = this.pose.axisBelowTopM
    const world = this.worldHomography(acrossM)
    const x0 = below * sin - half * cos
    const y0 = this.axisHeightM + below * cos + half * sin
    const image = new Float64Array(9)
    for (let row = 0; row < 9; row += 3) {
      const byX = world[row]!
      const byY = world[row + 1]!
      image[row] = byX * cos - byY * sin
      image[row + 1] = byX * sin + byY * cos
      image[row + 2] = byX * x0 + byY * y0 + world[row + 2]!
    }
    return image
  }

  worldHomography(acrossM: number): Float64Array {
    const p = this.projection
    const straight = new Float64Array(9)
    for (let row = 0; row < 3; row++) {
      straight[row * 3] = p[row * 4]!
      straight[row * 3 + 1] = p[row * 4 + 1]!
      straight[row * 3 + 2] = p[row * 4 + 2]! * acrossM + p[row * 4 + 3]!
    }
    if (this.pose.distortion === 0) return straight
    this.bend ??= this.fittedBend()
    return composeHomographies(this.bend, straight)
  }

  /** The projection that comes nearest to the lens distortion over the area that the plank sweeps: image from straight px. */
  private fittedBend(): Float64Array {
    const straight: [number, number][] = []
    const image: [number, number][] = []
    for (const angleRad of [this.restAngleRad, 0, this.groundedAngleRad]) {
      for (let step = 0; step <= 8; step++) {
        const point = { alongM: (step / 8) * this.lengthM, aboveM: 0, acrossM: 0 }
        const bent = this.imageFromPlank(point, angleRad)
        const flat = this.straightFromImage(bent)
        straight.push([flat.xPx, flat.yPx])
        image.push([bent.xPx, bent.yPx])
      }
    }
    return homographyFromPoints(straight, image)!
  }

  private imageFromStraight(point: ImagePx): ImagePx {
    const { principalXPx, principalYPx, focalPx, distortion } = this.pose
    const dx = point.xPx - principalXPx
    const dy = point.yPx - principalYPx
    const stretch = (distortion * (dx * dx + dy * dy)) / (focalPx * focalPx)
    return { xPx: point.xPx + dx * stretch, yPx: point.yPx + dy * stretch }
  }

  private straightFromImage(point: ImagePx): ImagePx {
    const { principalXPx, principalYPx, focalPx, distortion } = this.pose
    const dx = (point.xPx - principalXPx) / focalPx
    const dy = (point.yPx - principalYPx) / focalPx
    const radius = Math.hypot(dx, dy)
    // Newton on r (1 + k r²) = radius; mild distortion needs two rounds, three leave nothing.
    let straight = radius
    for (let round = 0; round < 3; round++) {
      const squared = straight * straight
      straight -= (straight + distortion * squared * straight - radius) / (1 + 3 * distortion * squared)
    }
    const shrink = radius > 0 ? (focalPx * straight) / radius : focalPx
    return { xPx: principalXPx + dx * shrink, yPx: principalYPx + dy * shrink }
  }

  private turnTo(angleRad: number): void {
    if (angleRad === this.turnRad) return
    this.turnRad = angleRad
    this.sin = Math.sin(angleRad)
    this.cos = Math.cos(angleRad)
  }

  private project(x: number, y: number, z: number): ImagePx {
    const p = this.projection
    const depth = p[8]! * x + p[9]! * y + p[10]! * z + p[11]!
    return this.imageFromStraight({
      xPx: (p[0]! * x + p[1]! * y + p[2]! * z + p[3]!) / depth,
      yPx: (p[4]! * x + p[5]! * y + p[6]! * z + p[7]!) / depth,
    })
  }
}

import { wander, type Random } from '../random.ts'
import type { CameraSpec } from '../scenario.ts'
import { add, cross, dot, scale, subtract, unit, type Vec3 } from '../world/vector.ts'

/** Where a camera is at one instant and which way it looks; right and down are the picture's axes. */
export interface Pose {
  readonly position: Vec3
  readonly right: Vec3
  readonly down: Vec3
  readonly forward: Vec3
}

/** A pinhole camera with one radial distortion term, hand shake, and a mild wish to follow the dog. */
export class Camera {
  readonly spec: CameraSpec
  readonly focalPx: number
  readonly basePosition: Vec3
  private readonly shakes: readonly ((timeS: number) => number)[]

  constructor(spec: CameraSpec, random: Random) {
    this.spec = spec
    this.focalPx = (spec.focalMmEquivalent / 36) * Math.max(spec.widthPx, spec.heightPx)
    const yaw = (spec.yawDeg * Math.PI) / 180
    const alongM = (spec.alongM ?? 0) + spec.distanceM * Math.sin(yaw)
    this.basePosition = [alongM, spec.heightM, spec.side * spec.distanceM * Math.cos(yaw)]
    // Hands: slow drift and a tremor of a few hertz, for the two angles, roll and three places.
    this.shakes = [0, 1, 2, 3, 4, 5].map(() => {
      const slow = wander(random, 0.25, 1.2)
      const quick = wander(random, 2, 7)
      return (timeS) => slow(timeS) + 0.3 * quick(timeS)
    })
  }

  get moves(): boolean {
    return this.spec.shakePx > 0 || this.spec.follow > 0
  }

  /** Pose at an instant; `subjectX` is where the dog is along the plank's direction. */
  pose(timeS: number, subjectX: number): Pose {
    const { spec } = this
    const shake = (i: number): number => this.shakes[i]!(timeS) * spec.shakePx
    const hand: Vec3 = [0.0011 * shake(3), 0.0008 * shake(4), 0.0008 * shake(5)]
    const position = add(this.basePosition, hand)
    const followedM = spec.follow * Math.max(-2.5, Math.min(2.5, subjectX))
    const target = add(spec.lookAt, [(spec.alongM ?? 0) + followedM, 0, 0])
    const forward0 = unit(subtract(target, position))
    const right0 = unit(cross(forward0, [0, 1, 0]))
    const up0 = cross(right0, forward0)
    const forward = unit(
      add(forward0, add(scale(right0, shake(0) / this.focalPx), scale(up0, shake(1) / this.focalPx))),
    )
    const roll = ((spec.rollDeg ?? 0) * Math.PI) / 180 + (0.4 * shake(2)) / this.focalPx
    const level = unit(cross(forward, [0, 1, 0]))
    const up = cross(level, forward)
    const right = add(scale(level, Math.cos(roll)), scale(up, Math.sin(roll)))
    return { position, right, down: cross(forward, right), forward }
  }

  /** Picture coordinates of a world place, and its depth; the centre of the first pixel is (0.5, 0.5). */
  project(pose: Pose, p: Vec3): { xPx: number; yPx: number; depthM: number } {
    const d = subtract(p, pose.position)
    const depthM = dot(d, pose.forward)
    const x = dot(d, pose.right) / depthM
    const y = dot(d, pose.down) / depthM
    const bend = 1 + this.spec.distortionK * (x * x + y * y)
    return {
      xPx: this.spec.widthPx / 2 + this.focalPx * x * bend,
      yPx: this.spec.heightPx / 2 + this.focalPx * y * bend,
      depthM,
    }
  }

  /** For each pixel centre the straight ray's x and y at depth 1: distortion undone by iteration. */
  rays(): { readonly x: Float32Array; readonly y: Float32Array } {
    const { widthPx: w, heightPx: h, distortionK: k } = this.spec
    const x = new Float32Array(w * h)
    const y = new Float32Array(w * h)
    for (let row = 0; row < h; row++) {
      for (let column = 0; column < w; column++) {
        const bentX = (column + 0.5 - w / 2) / this.focalPx
        const bentY = (row + 0.5 - h / 2) / this.focalPx
        let rx = bentX
        let ry = bentY
        for (let i = 0; k !== 0 && i < 8; i++) {
          const bend = 1 + k * (rx * rx + ry * ry)
          rx = bentX / bend
          ry = bentY / bend
        }
        x[row * w + column] = rx
        y[row * w + column] = ry
      }
    }
    return { x, y }
  }
}

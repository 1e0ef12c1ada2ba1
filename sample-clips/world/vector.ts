/**
 * Places and directions of the simulated world, metres: [x along travel, y up, z], right-handed, origin on the
 * ground below the pivot. With the camera on the +z side the dog travels from left to right.
 */
export type Vec3 = readonly [number, number, number]

export const add = (a: Vec3, b: Vec3): Vec3 => [a[0] + b[0], a[1] + b[1], a[2] + b[2]]
export const subtract = (a: Vec3, b: Vec3): Vec3 => [a[0] - b[0], a[1] - b[1], a[2] - b[2]]
export const scale = (a: Vec3, k: number): Vec3 => [a[0] * k, a[1] * k, a[2] * k]
export const addScaled = (a: Vec3, b: Vec3, k: number): Vec3 => [a[0] + b[0] * k, a[1] + b[1] * k, a[2] + b[2] * k]
export const dot = (a: Vec3, b: Vec3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
export const cross = (a: Vec3, b: Vec3): Vec3 => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
]
export const norm = (a: Vec3): number => Math.hypot(a[0], a[1], a[2])
export const unit = (a: Vec3): Vec3 => scale(a, 1 / (norm(a) || 1))
export const mix = (a: Vec3, b: Vec3, t: number): Vec3 => [
  a[0] + (b[0] - a[0]) * t,
  a[1] + (b[1] - a[1]) * t,
  a[2] + (b[2] - a[2]) * t,
]

/** Three orthogonal unit directions and an origin: a rigid place in the world. */
export interface Frame {
  readonly origin: Vec3
  readonly forward: Vec3
  readonly up: Vec3
  readonly side: Vec3
}

/** The world place of a point given as forward, up and side distances in a frame. */
export function place(frame: Frame, forwardM: number, upM: number, sideM: number): Vec3 {
  const { origin: o, forward: f, up: u, side: s } = frame
  return [
    o[0] + f[0] * forwardM + u[0] * upM + s[0] * sideM,
    o[1] + f[1] * forwardM + u[1] * upM + s[1] * sideM,
    o[2] + f[2] * forwardM + u[2] * upM + s[2] * sideM,
  ]
}

/** A frame whose forward axis is exact and whose up axis is as near as possible to the given one. */
export function frameAt(origin: Vec3, forward: Vec3, nearlyUp: Vec3): Frame {
  const f = unit(forward)
  const side = unit(cross(f, nearlyUp))
  return { origin, forward: f, up: cross(side, f), side }
}

/**
 * The middle joint of a two-bone limb from `root` to `tip`, bent towards `pole`. If the tip is out of reach the
 * bones are drawn out just enough to reach it, so that a planted paw stays planted.
 */
export function middleJoint(root: Vec3, tip: Vec3, upperM: number, lowerM: number, pole: Vec3): Vec3 {
  const reach = subtract(tip, root)
  const distance = Math.max(1e-6, norm(reach))
  const stretch = Math.max(1, distance / (0.995 * (upperM + lowerM)))
  const a = upperM * stretch
  const b = lowerM * stretch
  const shortest = Math.max(distance, Math.abs(a - b) * 1.001)
  const along = (a * a - b * b + shortest * shortest) / (2 * shortest)
  const aside = Math.sqrt(Math.max(0, a * a - along * along))
  const axis = scale(reach, 1 / distance)
  const sideways = unit(addScaled(pole, axis, -dot(pole, axis)))
  return addScaled(addScaled(root, axis, along), sideways, aside)
}

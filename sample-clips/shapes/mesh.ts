import type { Colour } from '../scenario.ts'
import { addScaled, cross, subtract, unit, type Frame, type Vec3, place } from '../world/vector.ts'

/** How a surface is speckled: two sizes of noise, each with a strength; sizes in metres. */
export interface Speckle {
  readonly sizeM: number
  readonly strength: number
  /** How much longer the speckles are along u than along v. */
  readonly stretch: number
}

/** Triangles with colour, normal and a flat map (u, v in metres) at each corner; grows as shapes are added. */
export class Mesh {
  readonly speckle: Speckle
  positions: number[] = []
  normals: number[] = []
  colours: number[] = []
  maps: number[] = []
  triangles: number[] = []
  /** Faces seen from behind are drawn too, lit from their front. */
  readonly thin: boolean

  constructor(speckle: Speckle = { sizeM: 0.05, strength: 0, stretch: 1 }, thin = false) {
    this.speckle = speckle
    this.thin = thin
  }

  get corners(): number {
    return this.positions.length / 3
  }

  corner(p: Vec3, normal: Vec3, colour: Colour, u: number, v: number): number {
    this.positions.push(p[0], p[1], p[2])
    this.normals.push(normal[0], normal[1], normal[2])
    this.colours.push(colour[0], colour[1], colour[2])
    this.maps.push(u, v)
    return this.positions.length / 3 - 1
  }

  triangle(a: number, b: number, c: number): void {
    this.triangles.push(a, b, c)
  }

  /** A flat four-cornered face, corners in turn. */
  face(a: Vec3, b: Vec3, c: Vec3, d: Vec3, colour: Colour, outward?: Vec3): void {
    const n = outward ?? unit(cross(subtract(b, a), subtract(d, a)))
    const w = Math.hypot(b[0] - a[0], b[1] - a[1], b[2] - a[2])
    const h = Math.hypot(d[0] - a[0], d[1] - a[1], d[2] - a[2])
    const i = this.corner(a, n, colour, 0, 0)
    this.corner(b, n, colour, w, 0)
    this.corner(c, n, colour, w, h)
    this.corner(d, n, colour, 0, h)
    this.triangle(i, i + 1, i + 2)
    this.triangle(i, i + 2, i + 3)
  }

  /** A box around a frame's origin, half sizes along its axes. */
  box(frame: Frame, halfForwardM: number, halfUpM: number, halfSideM: number, colour: Colour): void {
    const at = (f: number, u: number, s: number): Vec3 => place(frame, f * halfForwardM, u * halfUpM, s * halfSideM)
    const { forward, up, side } = frame
    const flip = (v: Vec3): Vec3 => [-v[0], -v[1], -v[2]]
    this.face(at(-1, 1, -1), at(1, 1, -1), at(1, 1, 1), at(-1, 1, 1), colour, up)
    this.face(at(-1, -1, -1), at(1, -1, -1), at(1, -1, 1), at(-1, -1, 1), colour, flip(up))
    this.face(at(-1, -1, 1), at(1, -1, 1), at(1, 1, 1), at(-1, 1, 1), colour, side)
    this.face(at(-1, -1, -1), at(1, -1, -1), at(1, 1, -1), at(-1, 1, -1), colour, flip(side))
    this.face(at(1, -1, -1), at(1, -1, 1), at(1, 1, 1), at(1, 1, -1), colour, forward)
    this.face(at(-1, -1, -1), at(-1, -1, 1), at(-1, 1, 1), at(-1, 1, -1), colour, flip(forward))
  }

  /**
   * A tube of elliptic rings; rings are joined to the next and the ends closed. `colour` may depend on the place
   * along (0 to 1) and around (direction over the ring: up part, side part).
   */
  tube(
    rings: readonly Ring[],
    segments: number,
    colour: (along: number, up: number, side: number, p: Vec3) => Colour,
  ): void {
    const first = this.corners
    let run = 0
    rings.forEach((ring, i) => {
      const before = rings[i - 1]
      if (before)
        run += Math.hypot(
          ring.centre[0] - before.centre[0],
          ring.centre[1] - before.centre[1],
          ring.centre[2] - before.centre[2],
        )
      const next = rings[Math.min(rings.length - 1, i + 1)]!
      const last = rings[Math.max(0, i - 1)]!
      const gap =
        Math.hypot(next.centre[0] - last.centre[0], next.centre[1] - last.centre[1], next.centre[2] - last.centre[2]) ||
        1
      const taper = Math.max(-2, Math.min(2, (last.upM + last.sideM - next.upM - next.sideM) / 2 / gap))
      const axis = cross(ring.up, ring.side)
      for (let k = 0; k < segments; k++) {
        const angle = (2 * Math.PI * k) / segments
        const cu = Math.cos(angle)
        const cs = Math.sin(angle)
        const p = addScaled(addScaled(ring.centre, ring.up, cu * ring.upM), ring.side, cs * ring.sideM)
        const outward = addScaled(
          addScaled([0, 0, 0], ring.up, cu / Math.max(ring.upM, 1e-4)),
          ring.side,
          cs / Math.max(ring.sideM, 1e-4),
        )
        const normal = unit(addScaled(unit(outward), axis, -taper))
        this.corner(p, normal, colour(i / (rings.length - 1), cu, cs, p), run, (angle * (ring.upM + ring.sideM)) / 2)
      }
    })
    for (let i = 0; i + 1 < rings.length; i++) {
      for (let k = 0; k < segments; k++) {
        const a = first + i * segments + k
        const b = first + i * segments + ((k + 1) % segments)
        this.triangle(a, b, b + segments)
        this.triangle(a, b + segments, a + segments)
      }
    }
    for (const end of [0, rings.length - 1]) {
      for (let k = 1; k + 1 < segments; k++)
        this.triangle(first + end * segments, first + end * segments + k, first + end * segments + k + 1)
    }
  }
}

/** One ellipse of a tube. `up` and `side` are unit directions across the tube. */
export interface Ring {
  readonly centre: Vec3
  readonly up: Vec3
  readonly side: Vec3
  readonly upM: number
  readonly sideM: number
}

/** Rings along a polyline, smoothed between its points; `side` stays as near as possible to the given one. */
export function ringsAlong(
  points: readonly { readonly at: Vec3; readonly upM: number; readonly sideM: number }[],
  side: Vec3,
  between: number,
): Ring[] {
  const rings: Ring[] = []
  const dense: { at: Vec3; upM: number; sideM: number }[] = []
  for (let i = 0; i + 1 < points.length; i++) {
    const p = [points[Math.max(0, i - 1)]!, points[i]!, points[i + 1]!, points[Math.min(points.length - 1, i + 2)]!]
    for (let k = 0; k < between; k++) {
      const t = k / between
      const c = (f: (q: (typeof p)[number]) => number): number => curve(f(p[0]!), f(p[1]!), f(p[2]!), f(p[3]!), t)
      dense.push({
        at: [c((q) => q.at[0]), c((q) => q.at[1]), c((q) => q.at[2])],
        upM: Math.max(
          1e-3,
          c((q) => q.upM),
        ),
        sideM: Math.max(
          1e-3,
          c((q) => q.sideM),
        ),
      })
    }
  }
  const end = points.at(-1)!
  dense.push({ at: end.at, upM: end.upM, sideM: end.sideM })
  dense.forEach((ring, i) => {
    const axis = unit(subtract(dense[Math.min(dense.length - 1, i + 1)]!.at, dense[Math.max(0, i - 1)]!.at))
    const up = unit(cross(side, axis))
    rings.push({ centre: ring.at, up, side: cross(axis, up), upM: ring.upM, sideM: ring.sideM })
  })
  return rings
}

/** A smooth curve through four values, between the second (t = 0) and the third (t = 1). */
function curve(a: number, b: number, c: number, d: number, t: number): number {
  return b + 0.5 * t * (c - a + t * (2 * a - 5 * b + 4 * c - d + t * (3 * (b - c) + d - a)))
}

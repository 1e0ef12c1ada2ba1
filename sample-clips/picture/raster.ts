import { noiseTile, Random } from '../random.ts'
import type { Vec3 } from '../world/vector.ts'
import type { Camera, Pose } from './camera.ts'
import type { Light } from '../shapes/light.ts'
import type { Mesh } from '../shapes/mesh.ts'
import type { ShadowMap } from './shadow-map.ts'

const TILE = 256
const tile = noiseTile(new Random(77), TILE, 32, 3, 0.6)

/** A mesh whose corners have been lit; it can be projected and drawn many times. */
export interface LitMesh {
  readonly mesh: Mesh
  readonly colours: Float32Array
  readonly positions: Float32Array
  readonly maps: Float32Array
  readonly triangles: Uint32Array
  /** Shadow over the flat map (u, v), 0 none to 1 full, and how much of the light a full one takes. */
  shade?: { readonly map: ShadowMap; readonly share: number }
}

export function lightMesh(mesh: Mesh, light: Light): LitMesh {
  const colours = new Float32Array(mesh.colours.length)
  for (let i = 0; i < colours.length; i += 3) {
    const n: Vec3 = [mesh.normals[i]!, mesh.normals[i + 1]!, mesh.normals[i + 2]!]
    const shine = light.shine(n, mesh.thin)
    for (let k = 0; k < 3; k++) colours[i + k] = mesh.colours[i + k]! * shine[k]!
  }
  return {
    mesh,
    colours,
    positions: Float32Array.from(mesh.positions),
    maps: Float32Array.from(mesh.maps),
    triangles: Uint32Array.from(mesh.triangles),
  }
}

/** Where a drawn mesh fell in the picture, px. */
export interface Box {
  readonly left: number
  readonly top: number
  readonly right: number
  readonly bottom: number
}

/** One sample a pixel: linear colour and inverse depth. Depth 0 is the sky. */
export class Raster {
  readonly width: number
  readonly height: number
  readonly colour: Float32Array
  readonly inverseDepth: Float32Array
  private screen = new Float32Array(0)

  constructor(width: number, height: number) {
    this.width = width
    this.height = height
    this.colour = new Float32Array(3 * width * height)
    this.inverseDepth = new Float32Array(width * height)
  }

  /**
   * Draws a mesh with the sample point of every pixel moved by (jitterX, jitterY) from the pixel's centre, rows
   * from `rowFrom` to before `rowTo` only. Triangles that reach behind the camera are left out.
   */
  draw(
    lit: LitMesh,
    camera: Camera,
    pose: Pose,
    jitterX: number,
    jitterY: number,
    rowFrom = 0,
    rowTo = this.height,
  ): Box | null {
    const box = this.project(lit, camera, pose, jitterX, jitterY)
    if (!box || box.right < 0 || box.bottom < rowFrom || box.left >= this.width || box.top >= rowTo) return null
    const { triangles } = lit
    for (let t = 0; t < triangles.length; t += 3)
      this.triangle(lit, camera.focalPx, triangles[t]!, triangles[t + 1]!, triangles[t + 2]!, rowFrom, rowTo)
    return box
  }

  /** The picture box a mesh would be drawn in. */
  extent(lit: LitMesh, camera: Camera, pose: Pose): Box | null {
    return this.project(lit, camera, pose, 0, 0)
  }

  private project(lit: LitMesh, camera: Camera, pose: Pose, jitterX: number, jitterY: number): Box | null {
    const { positions } = lit
    const count = positions.length / 3
    if (this.screen.length < positions.length) this.screen = new Float32Array(positions.length)
    const { screen } = this
    const [px, py, pz] = pose.position
    const { right, down, forward } = pose
    const k = camera.spec.distortionK
    const cx = camera.spec.widthPx / 2 - 0.5 - jitterX
    const cy = camera.spec.heightPx / 2 - 0.5 - jitterY
    let left = Infinity
    let top = Infinity
    let rightmost = -Infinity
    let bottom = -Infinity
    for (let i = 0; i < count; i++) {
      const dx = positions[3 * i]! - px
      const dy = positions[3 * i + 1]! - py
      const dz = positions[3 * i + 2]! - pz
      const depth = dx * forward[0] + dy * forward[1] + dz * forward[2]
      if (depth < 0.15) {
        screen[3 * i + 2] = 0
        continue
      }
      const x = (dx * right[0] + dy * right[1] + dz * right[2]) / depth
      const y = (dx * down[0] + dy * down[1] + dz * down[2]) / depth
      const bend = camera.focalPx * (1 + k * (x * x + y * y))
      const sx = cx + x * bend
      const sy = cy + y * bend
      screen[3 * i] = sx
      screen[3 * i + 1] = sy
      screen[3 * i + 2] = 1 / depth
      if (sx < left) left = sx
      if (sx > rightmost) rightmost = sx
      if (sy < top) top = sy
      if (sy > bottom) bottom = sy
    }
    return left > rightmost ? null : { left, top, right: rightmost, bottom }
  }

  private triangle(
    lit: LitMesh,
    focalPx: number,
    a: number,
    b: number,
    c: number,
    rowFrom: number,
    rowTo: number,
  ): void {
    const { screen, width, colour, inverseDepth } = this
    const za = screen[3 * a + 2]!
    const zb = screen[3 * b + 2]!
    const zc = screen[3 * c + 2]!
    if (za === 0 || zb === 0 || zc === 0) return
    const ax = screen[3 * a]!
    const ay = screen[3 * a + 1]!
    const bx = screen[3 * b]!
    const by = screen[3 * b + 1]!
    const cx = screen[3 * c]!
    const cy = screen[3 * c + 1]!
    const area = (bx - ax) * (cy - ay) - (by - ay) * (cx - ax)
    if (area === 0) return
    const top = Math.max(rowFrom, Math.ceil(Math.min(ay, by, cy)))
    const bottom = Math.min(rowTo - 1, Math.floor(Math.max(ay, by, cy)))
    const left = Math.max(0, Math.ceil(Math.min(ax, bx, cx)))
    const right = Math.min(width - 1, Math.floor(Math.max(ax, bx, cx)))
    if (left > right || top > bottom) return
    const inverse = 1 / area
    // Shares of a and b change by constant steps over the picture; the share of c is what is left.
    const aStepX = (by - cy) * inverse
    const bStepX = (cy - ay) * inverse
    const { colours, maps, mesh, shade } = lit
    const { sizeM, strength, stretch } = mesh.speckle
    const meanZ = (za + zb + zc) / 3
    const amount = strength * Math.max(0, Math.min(1, (sizeM * meanZ * focalPx) / 1.5 - 0.3))
    const perM = 8 / sizeM
    for (let y = top; y <= bottom; y++) {
      let wa = ((bx - left) * (cy - y) - (by - y) * (cx - left)) * inverse
      let wb = ((cx - left) * (ay - y) - (cy - y) * (ax - left)) * inverse
      let pixel = y * width + left
      for (let x = left; x <= right; x++, pixel++, wa += aStepX, wb += bStepX) {
        const wc = 1 - wa - wb
        if (wa < 0 || wb < 0 || wc < 0) continue
        const z = wa * za + wb * zb + wc * zc
        if (z <= inverseDepth[pixel]!) continue
        inverseDepth[pixel] = z
        let k = 1
        if (amount > 0 || shade) {
          const pa = (wa * za) / z
          const pb = (wb * zb) / z
          const pc = 1 - pa - pb
          const u = pa * maps[2 * a]! + pb * maps[2 * b]! + pc * maps[2 * c]!
          const v = pa * maps[2 * a + 1]! + pb * maps[2 * b + 1]! + pc * maps[2 * c + 1]!
          k += amount * tile[(((v * perM) | 0) & (TILE - 1)) * TILE + ((((u * perM) / stretch) | 0) & (TILE - 1))]!
          if (k < 0.1) k = 0.1
          if (shade) k *= 1 - shade.share * shade.map.at(u, v)
        }
        colour[3 * pixel] = k * (wa * colours[3 * a]! + wb * colours[3 * b]! + wc * colours[3 * c]!)
        colour[3 * pixel + 1] = k * (wa * colours[3 * a + 1]! + wb * colours[3 * b + 1]! + wc * colours[3 * c + 1]!)
        colour[3 * pixel + 2] = k * (wa * colours[3 * a + 2]! + wb * colours[3 * b + 2]! + wc * colours[3 * c + 2]!)
      }
    }
  }
}

import type { Vec3 } from '../world/vector.ts'

/** How dark a flat piece of surface is, on a grid of square cells: 0 lit, 1 in full shadow. */
export class ShadowMap {
  readonly cellM: number
  readonly columns: number
  readonly rows: number
  private readonly left: number
  private readonly top: number
  private cells: Float32Array

  constructor(left: number, top: number, widthM: number, heightM: number, cellM: number) {
    this.left = left
    this.top = top
    this.cellM = cellM
    this.columns = Math.ceil(widthM / cellM)
    this.rows = Math.ceil(heightM / cellM)
    this.cells = new Float32Array(this.columns * this.rows)
  }

  clear(): void {
    this.cells.fill(0)
  }

  /** Adds the shadow of triangles; `toFlat` maps a corner along the sun's rays onto the surface. */
  cast(
    positions: ArrayLike<number>,
    triangles: ArrayLike<number>,
    toFlat: (x: number, y: number, z: number) => readonly [number, number],
    density = 1,
  ): void {
    const flat = new Float32Array((2 * positions.length) / 3)
    for (let i = 0; i < flat.length / 2; i++) {
      const [u, v] = toFlat(positions[3 * i]!, positions[3 * i + 1]!, positions[3 * i + 2]!)
      flat[2 * i] = (u - this.left) / this.cellM - 0.5
      flat[2 * i + 1] = (v - this.top) / this.cellM - 0.5
    }
    for (let t = 0; t < triangles.length; t += 3)
      this.fill(flat, triangles[t]!, triangles[t + 1]!, triangles[t + 2]!, density)
  }

  private fill(flat: Float32Array, a: number, b: number, c: number, density: number): void {
    const [ax, ay, bx, by, cx, cy] = [
      flat[2 * a]!,
      flat[2 * a + 1]!,
      flat[2 * b]!,
      flat[2 * b + 1]!,
      flat[2 * c]!,
      flat[2 * c + 1]!,
    ]
    const area = (bx - ax) * (cy - ay) - (by - ay) * (cx - ax)
    if (Math.abs(area) < 1e-9) return
    const x1 = Math.min(this.columns - 1, Math.floor(Math.max(ax, bx, cx)))
    const y1 = Math.min(this.rows - 1, Math.floor(Math.max(ay, by, cy)))
    for (let y = Math.max(0, Math.ceil(Math.min(ay, by, cy))); y <= y1; y++) {
      for (let x = Math.max(0, Math.ceil(Math.min(ax, bx, cx))); x <= x1; x++) {
        const wa = ((bx - x) * (cy - y) - (by - y) * (cx - x)) / area
        const wb = ((cx - x) * (ay - y) - (cy - y) * (ax - x)) / area
        if (wa < 0 || wb < 0 || wa + wb > 1) continue
        const i = y * this.columns + x
        this.cells[i] = Math.max(this.cells[i]!, density)
      }
    }
  }

  /** Softens the edges: repeated box means of the given half width in cells. */
  soften(halfCells: number, times: number): void {
    if (halfCells < 1) return
    for (let i = 0; i < times; i++) {
      this.cells = boxMean(this.cells, this.columns, this.rows, halfCells, 1, this.columns)
      this.cells = boxMean(this.cells, this.rows, this.columns, halfCells, this.columns, 1)
    }
  }

  /** Darkness at a place of the surface, between cells by straight lines; 0 outside. */
  at(u: number, v: number): number {
    const x = (u - this.left) / this.cellM - 0.5
    const y = (v - this.top) / this.cellM - 0.5
    if (!(x >= 0 && y >= 0 && x < this.columns - 1 && y < this.rows - 1)) return 0
    const i = (y | 0) * this.columns + (x | 0)
    const fx = x - (x | 0)
    const fy = y - (y | 0)
    const { cells, columns } = this
    return (
      (cells[i]! * (1 - fx) + cells[i + 1]! * fx) * (1 - fy) +
      (cells[i + columns]! * (1 - fx) + cells[i + columns + 1]! * fx) * fy
    )
  }

  /** Visits the middle of every block of cells that holds some shadow. */
  forEachBlock(block: number, visit: (u: number, v: number) => void): void {
    for (let y = 0; y < this.rows; y += block) {
      for (let x = 0; x < this.columns; x += block) {
        if (this.holdsShadow(x, y, block))
          visit(this.left + (x + block / 2) * this.cellM, this.top + (y + block / 2) * this.cellM)
      }
    }
  }

  private holdsShadow(x0: number, y0: number, block: number): boolean {
    for (let y = y0; y < Math.min(this.rows, y0 + block); y++) {
      for (let x = x0; x < Math.min(this.columns, x0 + block); x++)
        if (this.cells[y * this.columns + x]! > 0.004) return true
    }
    return false
  }
}

/** Running mean along lines of `count` cells that are `step` apart; lines start `lineStep` apart. */
function boxMean(
  cells: Float32Array,
  count: number,
  lines: number,
  half: number,
  step: number,
  lineStep: number,
): Float32Array {
  const out = new Float32Array(cells.length)
  const share = 1 / (2 * half + 1)
  for (let line = 0; line < lines; line++) {
    const start = line * lineStep
    let sum = 0
    for (let i = -half; i < count; i++) {
      const enters = i + half
      if (enters < count) sum += cells[start + enters * step]!
      const leaves = i - half - 1
      if (leaves >= 0) sum -= cells[start + leaves * step]!
      if (i >= 0) out[start + i * step] = sum * share
    }
  }
  return out
}

/** Where a ray of the sun through a place meets level ground. */
export function groundFlat(sun: Vec3): (x: number, y: number, z: number) => readonly [number, number] {
  const kx = sun[0] / sun[1]
  const kz = sun[2] / sun[1]
  return (x, y, z) => [x - kx * y, z - kz * y]
}

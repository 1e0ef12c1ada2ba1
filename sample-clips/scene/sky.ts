import { noiseTile, smoothStep, type Random } from '../random.ts'
import type { Colour, FieldSpec } from '../scenario.ts'

const SIZE = 256

/** Sky colours by direction, with clouds that drift. */
export class Sky {
  private readonly clouds: Float32Array
  private readonly cover: number
  private readonly drift: number
  private readonly top: Colour
  private readonly rim: Colour
  private readonly cloud: Colour

  constructor(field: FieldSpec, random: Random) {
    this.drift = field.cloudDrift
    this.clouds = noiseTile(random, SIZE, 4, 6, 0.55)
    const looks: Record<FieldSpec['sky'], readonly [Colour, Colour, Colour, number]> = {
      fair: [[0.2, 0.4, 0.8], [0.62, 0.74, 0.86], [0.95, 0.95, 0.96], 0.35],
      cloudy: [[0.55, 0.62, 0.7], [0.72, 0.75, 0.78], [0.84, 0.85, 0.86], -0.5],
      evening: [[0.3, 0.42, 0.68], [0.92, 0.72, 0.5], [0.98, 0.82, 0.68], 0.3],
    }
    ;[this.top, this.rim, this.cloud, this.cover] = looks[field.sky]
  }

  /** Writes the linear colour of the sky in the direction (x, y up, z). */
  paint(x: number, y: number, z: number, timeS: number, into: Float32Array, at: number): void {
    const flat = Math.hypot(x, z)
    const height = y / Math.hypot(flat, y)
    const t = Math.sqrt(Math.max(0, Math.min(1, height * 1.6)))
    const over = 1 / Math.max(0.06, height + 0.08)
    const cu = (x / (flat || 1)) * over * 9 + this.drift * timeS
    const cv = (z / (flat || 1)) * over * 9
    const thick = smoothStep((this.noise(cu, cv) - this.cover) / 1.3) * smoothStep(height * 9)
    for (let k = 0; k < 3; k++)
      into[at + k] = (this.rim[k]! * (1 - t) + this.top[k]! * t) * (1 - 0.85 * thick) + 0.85 * thick * this.cloud[k]!
  }

  private noise(u: number, v: number): number {
    const x0 = Math.floor(u)
    const y0 = Math.floor(v)
    const fx = u - x0
    const fy = v - y0
    const { clouds } = this
    const row0 = (y0 & (SIZE - 1)) * SIZE
    const row1 = ((y0 + 1) & (SIZE - 1)) * SIZE
    const column0 = x0 & (SIZE - 1)
    const column1 = (x0 + 1) & (SIZE - 1)
    const top = clouds[row0 + column0]! * (1 - fx) + clouds[row0 + column1]! * fx
    const bottom = clouds[row1 + column0]! * (1 - fx) + clouds[row1 + column1]! * fx
    return top * (1 - fy) + bottom * fy
  }
}

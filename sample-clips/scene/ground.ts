import { noiseTile, type Random } from '../random.ts'
import type { Colour, FieldSpec } from '../scenario.ts'
import type { Light } from '../shapes/light.ts'

const SIZE = 512
const TILE_M = 3.1
const BROAD_M = 23

/** The look of the level ground: a tile of blades or grains in steps of sharpness, and broad patches over it. */
export class Ground {
  private readonly levels: Float32Array[] = []
  private readonly broad: Float32Array
  private readonly colour: Colour
  private readonly second: Colour
  private readonly alongM: number

  constructor(field: FieldSpec, light: Light, random: Random) {
    const shine = light.shine([0, 1, 0], false)
    this.alongM = field.alongM ?? 0
    const base: Record<FieldSpec['ground'], readonly [Colour, Colour]> = {
      grass: [
        [0.105, 0.185, 0.045],
        [0.2, 0.21, 0.075],
      ],
      sand: [
        [0.36, 0.28, 0.19],
        [0.27, 0.2, 0.13],
      ],
      matting: [
        [0.075, 0.16, 0.11],
        [0.06, 0.13, 0.095],
      ],
    }
    const [a, b] = base[field.ground]
    this.colour = [a[0] * shine[0], a[1] * shine[1], a[2] * shine[2]]
    this.second = [b[0] * shine[0], b[1] * shine[1], b[2] * shine[2]]
    this.levels.push(field.ground === 'grass' ? blades(random) : grains(random, field.ground === 'sand' ? 0.16 : 0.07))
    for (let size = SIZE; size > 4; size /= 2) this.levels.push(halved(this.levels.at(-1)!, size))
    this.broad = noiseTile(random, 128, 6, 4, 0.6)
  }

  /** Writes the linear colour of the ground at (worldX, z), seen with a pixel that covers `footprintM`. */
  paint(worldX: number, z: number, footprintM: number, into: Float32Array, at: number): void {
    const x = worldX - this.alongM
    const level = Math.min(this.levels.length - 1, Math.max(0, Math.round(Math.log2((footprintM * SIZE) / TILE_M))))
    const size = SIZE >> level
    const perM = size / TILE_M
    const tile = this.levels[level]!
    const u = Math.floor(x * perM) & (size - 1)
    const v = Math.floor(z * perM) & (size - 1)
    const fine = tile[v * size + u]!
    const bu = Math.floor(x * (128 / BROAD_M)) & 127
    const bv = Math.floor(z * (128 / BROAD_M)) & 127
    const broad = this.broadAt(x, z, bu, bv)
    const mixing = Math.min(1, Math.max(0, 0.35 + 0.28 * broad))
    const k = fine * (1 + 0.05 * broad)
    into[at] = k * (this.colour[0] * (1 - mixing) + this.second[0] * mixing)
    into[at + 1] = k * (this.colour[1] * (1 - mixing) + this.second[1] * mixing)
    into[at + 2] = k * (this.colour[2] * (1 - mixing) + this.second[2] * mixing)
  }

  private broadAt(x: number, z: number, u: number, v: number): number {
    const fx = x * (128 / BROAD_M) - Math.floor(x * (128 / BROAD_M))
    const fz = z * (128 / BROAD_M) - Math.floor(z * (128 / BROAD_M))
    const u1 = (u + 1) & 127
    const v1 = (v + 1) & 127
    const b = this.broad
    return (
      (b[v * 128 + u]! * (1 - fx) + b[v * 128 + u1]! * fx) * (1 - fz) +
      (b[v1 * 128 + u]! * (1 - fx) + b[v1 * 128 + u1]! * fx) * fz
    )
  }
}

/** Thousands of short strokes, light over dark: mown grass from above. */
function blades(random: Random): Float32Array {
  const tile = new Float32Array(SIZE * SIZE).fill(0.72)
  for (let i = 0; i < 26000; i++) {
    const tone = 0.72 + 0.7 * (i / 26000) * random.between(0.4, 1) + 0.12 * random.normal()
    const angle = random.between(0, 2 * Math.PI)
    const length = random.integer(3, 9)
    let x = random.between(0, SIZE)
    let y = random.between(0, SIZE)
    for (let step = 0; step < length; step++) {
      tile[(Math.floor(y) & (SIZE - 1)) * SIZE + (Math.floor(x) & (SIZE - 1))] = Math.max(
        0.3,
        tone * (0.85 + (0.3 * step) / length),
      )
      x += Math.cos(angle)
      y += Math.sin(angle)
    }
  }
  return tile
}

function grains(random: Random, strength: number): Float32Array {
  const noise = noiseTile(random, SIZE, 16, 6, 0.9)
  return noise.map((n) => Math.max(0.3, 1 + strength * n + strength * 0.6 * random.normal()))
}

function halved(level: Float32Array, size: number): Float32Array {
  const half = size / 2
  const out = new Float32Array(half * half)
  for (let y = 0; y < half; y++) {
    for (let x = 0; x < half; x++) {
      const i = 2 * y * size + 2 * x
      out[y * half + x] = (level[i]! + level[i + 1]! + level[i + size]! + level[i + size + 1]!) / 4
    }
  }
  return out
}

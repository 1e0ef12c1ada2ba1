/** Seeded chance: the same seed always makes the same clip. */
export class Random {
  private state: number

  constructor(seed: number) {
    this.state = (seed ^ 0x5bd1e995) >>> 0
    for (let i = 0; i < 4; i++) this.unit()
  }

  /** Evenly from 0 (included) to 1 (excluded); a 32-bit mixing generator of our own arrangement. */
  unit(): number {
    this.state = (this.state + 0x9e3779b9) >>> 0
    let z = this.state
    z = Math.imul(z ^ (z >>> 16), 0x85ebca6b)
    z = Math.imul(z ^ (z >>> 13), 0xc2b2ae35)
    return ((z ^ (z >>> 16)) >>> 0) / 4294967296
  }

  between(low: number, high: number): number {
    return low + (high - low) * this.unit()
  }

  integer(low: number, high: number): number {
    return Math.floor(this.between(low, high + 1))
  }

  chance(probability: number): boolean {
    return this.unit() < probability
  }

  pick<T>(items: readonly T[]): T {
    const item = items[Math.floor(this.unit() * items.length)]
    if (item === undefined) throw new Error('pick needs at least one item')
    return item
  }

  /** Normal deviate, mean 0 and standard deviation 1 (Box and Muller 1958). */
  normal(): number {
    return Math.sqrt(-2 * Math.log(1 - this.unit())) * Math.cos(2 * Math.PI * this.unit())
  }

  /** An independent stream for one purpose, so that more draws in one place do not change another. */
  fork(purpose: string): Random {
    let hash = this.state
    for (const letter of purpose) hash = Math.imul(hash ^ letter.charCodeAt(0), 0x01000193) >>> 0
    return new Random(hash)
  }
}

/** A smooth random function of time with unit variance and frequencies between two limits, Hz. */
export function wander(random: Random, lowHz: number, highHz: number): (timeS: number) => number {
  const waves = Array.from({ length: 7 }, () => ({
    rate: 2 * Math.PI * lowHz * (highHz / lowHz) ** random.unit(),
    phase: random.between(0, 2 * Math.PI),
  }))
  return (timeS) => waves.reduce((sum, wave) => sum + Math.sin(wave.rate * timeS + wave.phase), 0) * Math.sqrt(2 / 7)
}

/** Periodic fractal noise on a square of `size` texels (a power of two), scaled to mean 0 and standard deviation 1. */
export function noiseTile(
  random: Random,
  size: number,
  coarsestCells: number,
  octaves: number,
  gain: number,
): Float32Array {
  const tile = new Float32Array(size * size)
  let weight = 1
  for (let octave = 0, cells = coarsestCells; octave < octaves && cells <= size; octave++, cells *= 2, weight *= gain) {
    const lattice = Float32Array.from({ length: cells * cells }, () => random.between(-1, 1))
    const step = cells / size
    for (let y = 0; y < size; y++) {
      const v = y * step
      const y0 = Math.floor(v)
      const fy = smoothStep(v - y0)
      const rowA = (y0 % cells) * cells
      const rowB = ((y0 + 1) % cells) * cells
      for (let x = 0; x < size; x++) {
        const u = x * step
        const x0 = Math.floor(u)
        const fx = smoothStep(u - x0)
        const x1 = (x0 + 1) % cells
        const top = lattice[rowA + x0]! * (1 - fx) + lattice[rowA + x1]! * fx
        const bottom = lattice[rowB + x0]! * (1 - fx) + lattice[rowB + x1]! * fx
        tile[y * size + x]! += weight * (top * (1 - fy) + bottom * fy)
      }
    }
  }
  let sum = 0
  let squares = 0
  for (const value of tile) {
    sum += value
    squares += value * value
  }
  const mean = sum / tile.length
  const scale = 1 / Math.sqrt(squares / tile.length - mean * mean)
  for (let i = 0; i < tile.length; i++) tile[i] = (tile[i]! - mean) * scale
  return tile
}

/** 0 below 0, 1 above 1, and a smooth S between (3 t^2 - 2 t^3). */
export function smoothStep(t: number): number {
  const c = t < 0 ? 0 : t > 1 ? 1 : t
  return c * c * (3 - 2 * c)
}

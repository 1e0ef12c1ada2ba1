import { type Random } from '../random.ts'
import type { CameraSpec } from '../scenario.ts'

const NOISE_TABLE = 1 << 18

/** What lens, sensor and phone make of the light: a little blur, exposure that flickers, tone, noise, 8 bits. */
export class Film {
  private readonly spec: CameraSpec
  private readonly random: Random
  private readonly noise: Float32Array
  private readonly tone: Float32Array
  private blurred: Float32Array

  constructor(spec: CameraSpec, random: Random) {
    this.spec = spec
    this.random = random
    this.noise = Float32Array.from({ length: NOISE_TABLE }, () => random.normal())
    this.tone = Float32Array.from({ length: 4097 }, (_, i) => toneOf(i / 2048))
    this.blurred = new Float32Array(3 * spec.widthPx * spec.heightPx)
  }

  /** Develops linear light into rgb24 bytes, written at the start of `out`. */
  develop(light: Float32Array, out: Uint8Array): void {
    const { widthPx: w, heightPx: h, noise: strength, flicker, blurPx } = this.spec
    const seen = blurPx > 0 ? this.blur(light, w, h, blurPx) : light
    const gain = 2048 * Math.max(0.5, 1 + flicker * this.random.normal())
    const { noise, tone } = this
    let n = this.random.integer(0, NOISE_TABLE - 1)
    for (let i = 0; i < 3 * w * h; i += 3) {
      // Brightness noise is shared by the three colours; a smaller part is each colour's own.
      n = (n + 3) & (NOISE_TABLE - 1)
      if ((i & 16383) === 0) n = this.random.integer(0, NOISE_TABLE - 4)
      const common = noise[n]!
      for (let k = 0; k < 3; k++) {
        const v = tone[Math.min(4096, Math.max(0, seen[i + k]! * gain)) | 0]!
        const shot = strength * (0.55 + 0.75 * v)
        out[i + k] = Math.max(
          0,
          Math.min(
            255,
            255 * (v + shot * (0.8 * common + 0.6 * noise[(n + 7919 * (k + 1)) & (NOISE_TABLE - 1)]!)) + 0.5,
          ),
        )
      }
    }
  }

  /** A small separable blur, sigma in px. */
  private blur(light: Float32Array, w: number, h: number, sigma: number): Float32Array {
    const side = Math.exp(-1 / (2 * sigma * sigma))
    const middle = 1 / (1 + 2 * side)
    const edge = side * middle
    const out = this.blurred
    for (let y = 0; y < h; y++) {
      for (let i = 3 * y * w; i < 3 * (y + 1) * w; i++) {
        const left = i >= 3 * y * w + 3 ? light[i - 3]! : light[i]!
        const right = i < 3 * (y + 1) * w - 3 ? light[i + 3]! : light[i]!
        out[i] = middle * light[i]! + edge * (left + right)
      }
    }
    // Down the columns in place: the row above is kept before it is overwritten.
    const above = new Float32Array(3 * w)
    above.set(out.subarray(0, 3 * w))
    for (let y = 0; y < h; y++) {
      for (let i = 0; i < 3 * w; i++) {
        const at = 3 * y * w + i
        const here = out[at]!
        const below = y + 1 < h ? out[at + 3 * w]! : here
        out[at] = middle * here + edge * (above[i]! + below)
        above[i] = here
      }
    }
    return out
  }
}

/** Linear light to a display value: soft shoulder, then the display's power law. */
function toneOf(light: number): number {
  const bent = light < 0.7 ? light : 0.7 + (1 - Math.exp(-(light - 0.7) / 0.42)) * 0.3
  return bent <= 0.0031308 ? 12.92 * bent : 1.055 * bent ** (1 / 2.4) - 0.055
}

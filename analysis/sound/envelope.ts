import { realRateHz } from './sound.ts'
import type { Sound } from './sound.ts'

/** A sound drawn small: parallel arrays, one element a bucket. Amplitudes -1 to 1; all 0 where the track has no sound. */
export interface Envelope {
  /** Middle of each bucket, s of real time. */
  readonly atS: Float64Array
  /** Lowest and highest sample. */
  readonly low: Float32Array
  readonly high: Float32Array
  /** Root mean square. */
  readonly rms: Float32Array
}

/**
 * Reduces a stretch of sound to as many buckets as a chart has columns.
 *
 * @param sound a sound track
 * @param fromS start of the stretch, s of real time; may lie before the sound
 * @param toS its end, after `fromS`
 * @param buckets how many equal parts, at least 1
 * @returns lowest, highest and root mean square of each part; a part shorter than a sample repeats the sample it lies in
 * @example samples 0, 0.5, -0.5, 0 at 4 Hz from 0 to 1 s in two buckets: atS 0.25, 0.75; low 0, -0.5; high 0.5, 0
 */
export function soundEnvelope(sound: Sound, fromS: number, toS: number, buckets: number): Envelope {
  const rateHz = realRateHz(sound)
  const widthS = (toS - fromS) / buckets
  const atS = Float64Array.from({ length: buckets }, (_, i) => fromS + (i + 0.5) * widthS)
  const [low, high, rms] = [new Float32Array(buckets), new Float32Array(buckets), new Float32Array(buckets)]
  for (let i = 0; i < buckets; i++) {
    // Nudged by a millionth of a sample, so that a border that falls on a sample is not moved by rounding.
    const first = Math.floor((fromS + i * widthS - sound.startS) * rateHz + 1e-6)
    const end = Math.max(first + 1, Math.floor((fromS + (i + 1) * widthS - sound.startS) * rateHz + 1e-6))
    const part = sound.samples.subarray(Math.max(0, first), Math.max(0, end))
    if (part.length === 0) continue
    low[i] = part.reduce((a, b) => Math.min(a, b), Infinity)
    high[i] = part.reduce((a, b) => Math.max(a, b), -Infinity)
    rms[i] = Math.sqrt(part.reduce((sum, value) => sum + value * value, 0) / part.length)
  }
  return { atS, low, high, rms }
}

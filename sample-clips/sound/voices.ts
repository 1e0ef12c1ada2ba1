import type { Random } from '../random.ts'

export const RATE_HZ = 48_000

/** A struck thing: tones that die away, and a burst of noise at the stroke. */
interface Struck {
  /** Frequency (Hz), loudness, and time to fall to 1/e (s) of each tone. */
  readonly tones: readonly (readonly [number, number, number])[]
  readonly noise: number
  readonly noiseFallS: number
  /** How bright the noise is: 1 white, near 0 dull. */
  readonly brightness: number
  readonly lastsS: number
}

const STRUCK = {
  // A board of thin metal rings; a wooden one knocks; both shake a stand. Made up to sound right, not measured.
  aluminium: {
    tones: [
      [118, 0.8, 0.07],
      [263, 0.55, 0.12],
      [612, 0.35, 0.16],
      [1130, 0.22, 0.13],
      [1890, 0.15, 0.09],
      [3020, 0.08, 0.06],
    ],
    noise: 0.9,
    noiseFallS: 0.016,
    brightness: 0.7,
    lastsS: 0.7,
  },
  wood: {
    tones: [
      [86, 1, 0.06],
      [172, 0.7, 0.05],
      [341, 0.45, 0.035],
      [705, 0.2, 0.02],
    ],
    noise: 0.9,
    noiseFallS: 0.012,
    brightness: 0.35,
    lastsS: 0.4,
  },
  softGround: {
    tones: [
      [62, 1, 0.06],
      [131, 0.5, 0.04],
    ],
    noise: 0.5,
    noiseFallS: 0.03,
    brightness: 0.08,
    lastsS: 0.35,
  },
  paw: {
    tones: [
      [190, 0.6, 0.018],
      [430, 0.25, 0.012],
    ],
    noise: 0.6,
    noiseFallS: 0.006,
    brightness: 0.3,
    lastsS: 0.09,
  },
  thud: { tones: [[74, 1, 0.08]], noise: 0.6, noiseFallS: 0.025, brightness: 0.12, lastsS: 0.4 },
} as const satisfies Record<string, Struck>

/** The sound of a stroke; it is loud from its first sample on. */
export function strike(thing: keyof typeof STRUCK, random: Random): Float32Array {
  const { tones, noise, noiseFallS, brightness, lastsS }: Struck = STRUCK[thing]
  const out = new Float32Array(Math.round(lastsS * RATE_HZ))
  const detune = random.between(0.96, 1.04)
  let dull = 0
  for (let i = 0; i < out.length; i++) {
    const t = i / RATE_HZ
    dull += brightness * (random.normal() - dull)
    let value = noise * Math.exp(-t / noiseFallS) * dull * Math.sqrt(1 / brightness)
    for (const [hz, loud, fallS] of tones)
      value += loud * Math.exp(-t / fallS) * Math.cos(2 * Math.PI * hz * detune * t)
    out[i] = value * Math.min(1, (out.length - i) / 480)
  }
  return out
}

/** One bark: a growing and falling buzz with two broad resonances. */
export function bark(random: Random): Float32Array {
  const out = new Float32Array(Math.round(0.2 * RATE_HZ))
  const pitch = random.between(380, 620)
  let turn = 0
  for (let i = 0; i < out.length; i++) {
    const t = i / out.length
    turn += (pitch * (0.8 + 0.5 * Math.sin(Math.PI * Math.min(1, 1.3 * t)))) / RATE_HZ
    const buzz = 1 - 2 * (turn - Math.floor(turn)) + 0.35 * random.normal()
    out[i] = buzz * Math.sin(Math.PI * t ** 0.4) ** 2 * 0.8
  }
  return smoothed(out, 0.35)
}

/** Hands that clap: a short crack of noise. */
export function clap(random: Random): Float32Array {
  const noise = Float32Array.from({ length: 2400 }, (_, i) => 1.4 * random.normal() * Math.exp(-i / 260))
  return smoothed(noise, 0.5)
}

/** A called word: a buzz at a person's pitch, open and closed twice. */
export function call(random: Random): Float32Array {
  const out = new Float32Array(Math.round(0.45 * RATE_HZ))
  const pitch = random.between(150, 260)
  let turn = 0
  for (let i = 0; i < out.length; i++) {
    const t = i / out.length
    turn += (pitch * (1.1 - 0.2 * t)) / RATE_HZ
    const buzz = 1 - 2 * (turn - Math.floor(turn))
    out[i] = buzz * Math.abs(Math.sin(2 * Math.PI * t)) * Math.sin(Math.PI * t)
  }
  return smoothed(out, 0.18)
}

/** Keeps the low part: each value moves towards the next by a share. */
function smoothed(wave: Float32Array, share: number): Float32Array {
  let value = 0
  return wave.map((next) => (value += share * (next - value)))
}

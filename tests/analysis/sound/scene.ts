import type { Random } from '../../../analysis/numeric/random.ts'

/**
 * Sounds of an agility field, made from scratch with a seed. Loudness is given in dB full scale (root mean square of the loudest
 * 30 ms), so that a scene can say by how much a landing stands out. Nothing here is used by the program.
 */

export function between(random: Random, low: number, high: number): number {
  return low + (high - low) * random.uniform()
}

/** A place to add sounds to. Times in s from the first sample. */
export class Scene {
  readonly samples: Float32Array
  readonly rateHz: number
  readonly random: Random

  constructor(lengthS: number, rateHz: number, random: Random) {
    this.samples = new Float32Array(Math.round(lengthS * rateHz))
    this.rateHz = rateHz
    this.random = random
  }

  /** Adds a sound whose first sample may lie between two of ours: `valueAt` takes s since its start, and is 0 before it. */
  add(atS: number, lengthS: number, levelDb: number, valueAt: (sinceS: number) => number): void {
    const from = Math.ceil(atS * this.rateHz)
    const values = new Float64Array(Math.round(lengthS * this.rateHz))
    for (let i = 0; i < values.length; i++) values[i] = valueAt((from + i) / this.rateHz - atS)
    const gain = 10 ** (levelDb / 20) / loudest30ms(values, this.rateHz)
    for (let i = Math.max(0, -from); i < values.length && from + i < this.samples.length; i++) {
      this.samples[from + i]! += gain * values[i]!
    }
  }

  /** Wind on the microphone: deep, in gusts of about a second; and hiss 15 dB below it. */
  wind(levelDb: number): void {
    const { random, rateHz } = this
    const gustHz = between(random, 0.4, 1.2)
    const phase = between(random, 0, 6)
    const deep = 1 - Math.exp((-2 * Math.PI * between(random, 40, 120)) / rateHz)
    let [one, two] = [0, 0]
    const rumble = new Float64Array(this.samples.length)
    let power = 0
    for (let i = 0; i < rumble.length; i++) {
      one += deep * (random.normal() - one)
      two += deep * (one - two)
      rumble[i] = two * (1 + 0.6 * Math.sin((2 * Math.PI * gustHz * i) / rateHz + phase))
      power += rumble[i]! ** 2
    }
    const gain = 10 ** (levelDb / 20) / Math.sqrt(power / rumble.length)
    const hiss = 10 ** ((levelDb - 15) / 20)
    for (let i = 0; i < rumble.length; i++) this.samples[i]! += gain * rumble[i]! + hiss * random.normal()
  }

  /** A wooden plank end: a few low modes, soft rise, short tail. */
  woodBang(atS: number, levelDb: number): void {
    const { random } = this
    const riseS = between(random, 0.0005, 0.002)
    const modes = [between(random, 100, 180), between(random, 180, 280), between(random, 280, 420)]
    const tails = modes.map(() => between(random, 0.02, 0.06))
    const click = noiseBurst(random, 0.004, between(random, 0.1, 0.5))
    this.add(
      atS,
      0.4,
      levelDb,
      (t) => rise(t, riseS) * (modes.reduce((sum, f, i) => sum + decaying(t, f, tails[i] ?? 0.03), 0) + click(t)),
    )
  }

  /** An aluminium plank end: a thud, a hard knock and ringing modes. */
  aluminiumBang(atS: number, levelDb: number): void {
    const { random } = this
    const riseS = between(random, 0.0001, 0.001)
    const modes = [1, 2, 3, 4].map(() => between(random, 900, 4200))
    const tails = modes.map(() => between(random, 0.05, 0.2))
    const knock = noiseBurst(random, 0.006, between(random, 0.5, 1.5))
    const thudHz = between(random, 120, 250)
    this.add(atS, 0.6, levelDb, (t) => {
      const ring = modes.reduce((sum, f, i) => sum + 0.5 * decaying(t, f, tails[i] ?? 0.1), 0)
      return rise(t, riseS) * (ring + decaying(t, thudHz, 0.03) + knock(t))
    })
  }

  clap(atS: number, levelDb: number): void {
    const burst = noiseBurst(this.random, between(this.random, 0.004, 0.012), 1)
    const bodyHz = between(this.random, 900, 2200)
    this.add(atS, 0.1, levelDb, (t) => rise(t, 0.0005) * (burst(t) + decaying(t, bodyHz, 0.006)))
  }

  bark(atS: number, levelDb: number): void {
    const { random } = this
    const lengthS = between(random, 0.1, 0.2)
    const pitchHz = between(random, 300, 700)
    const attackS = between(random, 0.01, 0.03)
    const breath = noiseBurst(random, 10, 0.3)
    this.add(atS, lengthS, levelDb, (t) => {
      const glide = pitchHz * (1 + 0.3 * Math.sin((Math.PI * t) / lengthS)) // rises, then falls
      const shape = Math.min(1, t / attackS) * Math.min(1, (lengthS - t) / 0.06)
      let sum = breath(t)
      for (let harmonic = 1; harmonic <= 6; harmonic++) sum += Math.sin(2 * Math.PI * harmonic * glide * t) / harmonic
      return shape * sum
    })
  }

  /** A few syllables. */
  voice(atS: number, levelDb: number): void {
    const { random } = this
    const pitchHz = between(random, 110, 260)
    for (let syllable = 0, at = atS; syllable < 3; syllable++) {
      const lengthS = between(random, 0.12, 0.3)
      const attackS = between(random, 0.02, 0.06)
      this.add(at, lengthS, levelDb, (t) => {
        const shape = Math.min(1, t / attackS, (lengthS - t) / 0.05)
        let sum = 0
        for (let harmonic = 1; harmonic <= 15; harmonic++) {
          const f = harmonic * pitchHz
          sum += (Math.sin(2 * Math.PI * f * t) * (1 + 3 * Math.exp(-(((f - 700) / 300) ** 2)))) / harmonic
        }
        return shape * sum
      })
      at += lengthS + between(random, 0.02, 0.1)
    }
  }

  step(atS: number, levelDb: number): void {
    const { random } = this
    const thudHz = between(random, 90, 300)
    const claws = noiseBurst(random, 0.003, between(random, 0.2, 1))
    this.add(atS, 0.08, levelDb, (t) => rise(t, 0.002) * (decaying(t, thudHz, 0.012) + claws(t)))
  }

  /** What is heard besides the landing: wind, steps at a trot, and up to `loud` of claps, barks and voices, each anywhere. */
  everyday(windDb: number, loud: number): void {
    const { random } = this
    const lengthS = this.samples.length / this.rateHz
    this.wind(windDb)
    for (let at = between(random, 0.2, 1); at < lengthS; at += between(random, 0.1, 0.25)) {
      this.step(at, windDb + between(random, -12, 6))
    }
    for (let n = 0; n < loud; n++) {
      const at = between(random, 0, lengthS)
      const level = windDb + between(random, 6, 30)
      const kind = random.uniform()
      if (kind < 0.3) this.clap(at, level)
      else if (kind < 0.65) this.bark(at, level)
      else this.voice(at, level)
    }
  }
}

function rise(t: number, riseS: number): number {
  return t <= 0 ? 0 : 1 - Math.exp(-t / riseS)
}

function decaying(t: number, hz: number, tailS: number): number {
  return t <= 0 ? 0 : Math.sin(2 * Math.PI * hz * t) * Math.exp(-t / tailS)
}

/** Noise with a tail; a new value every 1/20 000 s, whatever the rate of the scene. */
function noiseBurst(random: Random, tailS: number, size: number): (t: number) => number {
  const values = new Float64Array(4000)
  for (let i = 0; i < values.length; i++) values[i] = random.normal()
  return (t) => (t <= 0 ? 0 : size * (values[Math.floor(t * 20_000) % values.length] ?? 0) * Math.exp(-t / tailS))
}

function loudest30ms(values: Float64Array, rateHz: number): number {
  const look = Math.min(values.length, Math.round(0.03 * rateHz))
  let [sum, most] = [0, 0]
  for (let i = 0; i < values.length; i++) {
    sum += values[i]! ** 2 - (i >= look ? values[i - look]! ** 2 : 0)
    most = Math.max(most, sum / look)
  }
  return Math.sqrt(most)
}

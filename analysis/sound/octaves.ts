/** One octave of a sound; sample i lies i / rateHz after the first one, without delay. */
export interface Octave {
  readonly lowHz: number
  readonly highHz: number
  /** Twice `highHz`. */
  readonly rateHz: number
  /** Only what lies between `lowHz` and `highHz`. */
  readonly band: Float32Array
  /** Everything up to `highHz`. */
  readonly whole: Float32Array
}

/** Below this lies wind on the microphone and handling noise; the lowest octave starts above it. */
const LOWEST_HZ = 80
/** Octaves that start above this hold little of a bang after ten metres of air, and lossy coding thins them out. */
const HIGHEST_LOW_HZ = 9000
/** Taps on each side of the kernel that keeps the lower half of a spectrum. */
const REACH = 15

/**
 * Splits a sound into octaves.
 *
 * Method: repeated halving with a symmetric half-band kernel (sinc under a Hamming window); what a halving takes away is
 * the octave. Symmetric kernels shift nothing in time. Source: any text on filter banks.
 *
 * @param samples a sound
 * @param rateHz samples per second of real time
 * @returns octaves from high to low, none below 80 Hz or starting above 9 kHz: 44.1 kHz gives seven, from 86 Hz to 11 kHz;
 *   empty when the rate is below 320 Hz
 */
export function octavesOf(samples: Float32Array, rateHz: number): Octave[] {
  const octaves: Octave[] = []
  let whole = samples
  for (let rate = rateHz; rate / 4 >= LOWEST_HZ; rate /= 2) {
    const lower = lowerHalf(whole)
    if (rate / 4 <= HIGHEST_LOW_HZ) {
      const band = whole.map((value, i) => value - (lower[i] ?? 0))
      octaves.push({ lowHz: rate / 4, highHz: rate / 2, rateHz: rate, band, whole })
    }
    whole = everySecond(lower)
  }
  return octaves
}

/** Taps at distance 1, 3, 5, ...; the one in the middle is 1/2 and the even ones are 0. */
const TAPS = halfBandTaps()

function halfBandTaps(): number[] {
  const taps: number[] = []
  for (let n = 1; n <= REACH; n += 2) {
    const hamming = 0.54 + 0.46 * Math.cos((Math.PI * n) / (REACH + 1))
    taps.push((Math.sin((Math.PI * n) / 2) / (Math.PI * n)) * hamming)
  }
  // The lowest frequencies must pass unchanged: 1/2 in the middle and 1/4 on each side.
  const sum = taps.reduce((a, b) => a + b, 0)
  return taps.map((tap) => (tap * 0.25) / sum)
}

function lowerHalf(samples: Float32Array): Float32Array {
  const out = new Float32Array(samples.length)
  for (let i = 0; i < out.length; i++) {
    let sum = 0.5 * (samples[i] ?? 0)
    for (let k = 0; k < TAPS.length; k++) {
      const away = 2 * k + 1
      sum += (TAPS[k] ?? 0) * ((samples[i - away] ?? 0) + (samples[i + away] ?? 0))
    }
    out[i] = sum
  }
  return out
}

function everySecond(samples: Float32Array): Float32Array {
  const out = new Float32Array(Math.ceil(samples.length / 2))
  for (let i = 0; i < out.length; i++) out[i] = samples[2 * i] ?? 0
  return out
}

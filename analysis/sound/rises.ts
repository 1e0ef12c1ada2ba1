import { median, robustSd } from '../numeric/robust.ts'
import type { Octave } from './octaves.ts'

/** How steeply each octave's loudness rises, on a grid of `hopS`. */
export interface Rises {
  readonly hopS: number
  /** Grid points; point i lies i * hopS after the first sample. */
  readonly count: number
  /** From high to low, as the octaves. */
  readonly bands: readonly BandRises[]
}

export interface BandRises {
  readonly lowHz: number
  readonly highHz: number
  /** Loudness just after the point over loudness just before it, dB. */
  readonly riseDb: Float32Array
  /** Power just after the point less power just before it, full scale 1. */
  readonly jump: Float64Array
  /** How much `riseDb` wanders when nothing happens, 1 sd, dB. */
  readonly spreadDb: number
}

const HOP_S = 0.001
/** Loudness is read over at least this long after a point, and over twice as long before it. */
const SHORTEST_LOOK_S = 0.012
/** No octave is taken to be steadier than this: nobody's ear or phone is. Our judgement, no source. */
const LEAST_SPREAD_DB = 1.5
/** Full scale is 1: -100 dB is about the rounding of 16-bit sound. */
const SILENCE = 1e-10
/** What lies 60 dB below the loudest moment counts as silence: lossy coding cuts such sound to nothing. */
const COUNTS_AS_SILENCE = 1e-6

/**
 * Where a sound suddenly gets louder, octave by octave.
 *
 * Method: energy after over energy before each point (log-energy flux), both over the octave's median level, so that only
 * rises above the background count. The spread is the scaled median absolute deviation, which a few loud sounds do not move.
 *
 * @param octaves of one sound, all starting at the same instant
 * @returns the rises; an octave's look is never shorter than two periods of its width (23 ms from 86 to 172 Hz);
 *   0 where a look would reach beyond the sound
 */
export function risesOf(octaves: readonly Octave[]): Rises {
  const lengthS = Math.min(...octaves.map((octave) => octave.band.length / octave.rateHz))
  const count = octaves.length === 0 ? 0 : Math.floor(lengthS / HOP_S)
  return { hopS: HOP_S, count, bands: octaves.map((octave) => bandRises(octave, count)) }
}

function bandRises(octave: Octave, count: number): BandRises {
  const lookS = Math.max(SHORTEST_LOOK_S, 2 / (octave.highHz - octave.lowHz))
  const energy = runningEnergy(octave.band)
  const meanSquare = (fromS: number, toS: number) =>
    (energyUpTo(energy, toS * octave.rateHz) - energyUpTo(energy, fromS * octave.rateHz)) /
    ((toS - fromS) * octave.rateHz)
  const after = Float64Array.from({ length: count }, (_, i) => meanSquare(i * HOP_S, i * HOP_S + lookS))
  const loudest = after.reduce((a, b) => Math.max(a, b), 0)
  const floor = Math.max(median(after), loudest * COUNTS_AS_SILENCE, SILENCE)
  const [riseDb, jump] = [new Float32Array(count), new Float64Array(count)]
  after.forEach((level, i) => {
    const atS = i * HOP_S
    if (atS < 2 * lookS || atS > count * HOP_S - lookS) return
    const before = meanSquare(atS - 2 * lookS, atS)
    riseDb[i] = 10 * Math.log10((level + floor) / (before + floor))
    jump[i] = level - before
  })
  return {
    lowHz: octave.lowHz,
    highHz: octave.highHz,
    riseDb,
    jump,
    spreadDb: Math.max(robustSd(riseDb), LEAST_SPREAD_DB),
  }
}

function runningEnergy(samples: Float32Array): Float64Array {
  const sum = new Float64Array(samples.length + 1)
  for (let i = 0; i < samples.length; i++) sum[i + 1] = (sum[i] ?? 0) + (samples[i] ?? 0) ** 2
  return sum
}

/** Energy up to a place between two samples. */
function energyUpTo(sum: Float64Array, place: number): number {
  const at = Math.min(Math.max(place, 0), sum.length - 1)
  const [low, part] = [Math.floor(at), at - Math.floor(at)]
  const below = sum[low] ?? 0
  return below + part * ((sum[low + 1] ?? below) - below)
}

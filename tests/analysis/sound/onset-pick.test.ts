import { describe, expect, it } from 'vitest'
import { seededRandom } from '../../../analysis/numeric/random.ts'
import { pickOnset } from '../../../analysis/sound/onset-pick.ts'
import { howItRings } from '../../../analysis/sound/struck.ts'

const RATE_HZ = 44_100
const ONSET_S = 0.1

/** Faint noise, and a sound of amplitude about 1 from ONSET_S on; `valueAt` takes s since then. */
function struckAt(
  seed: number,
  noise: number,
  valueAt: (sinceS: number, random: () => number) => number,
): Float32Array {
  const random = seededRandom(seed)
  return Float32Array.from({ length: 0.4 * RATE_HZ }, (_, i) => {
    const t = i / RATE_HZ - ONSET_S
    return noise * random.normal() + (t > 0 ? valueAt(t, () => random.normal()) : 0)
  })
}
const hiss = (t: number, random: () => number) => random() * Math.exp(-t / 0.03)
const ring = (hz: number) => (t: number) => Math.sin(2 * Math.PI * hz * t) * Math.exp(-t / 0.03)
const lateMs = (samples: Float32Array, roughS = ONSET_S) =>
  1000 * ((pickOnset(samples, RATE_HZ, roughS)?.atS ?? NaN) - ONSET_S)

describe('onset pick', () => {
  it('finds a burst of noise within 0.1 ms wherever the rough place lies within 8 ms', () => {
    for (let seed = 0; seed < 5; seed++) {
      for (const offS of [-0.008, 0, 0.008]) {
        expect(Math.abs(lateMs(struckAt(seed, 0.001, hiss), ONSET_S + offS))).toBeLessThan(0.1)
      }
    }
  })

  it('finds where a tone sets in within 0.3 ms, from 200 Hz to 4 kHz', () => {
    for (const hz of [200, 500, 1000, 4000]) expect(Math.abs(lateMs(struckAt(1, 0.001, ring(hz))))).toBeLessThan(0.3)
  })

  it('agrees with the likelihood of two normal distributions, searched one by one', () => {
    // Second implementation: two-sample Gaussian log-likelihood, cut by cut, on noise whose power steps up by 20 dB.
    for (let seed = 0; seed < 5; seed++) {
      const samples = struckAt(seed, 0.1, (_, random) => random())
      const [from, to] = [Math.round((ONSET_S - 0.008) * RATE_HZ), Math.round((ONSET_S + 0.012) * RATE_HZ)]
      const logLikelihood = (part: Float32Array) => {
        const variance = part.reduce((sum, value) => sum + value * value, 0) / part.length
        return part.reduce((sum, x) => sum - 0.5 * Math.log(2 * Math.PI * variance) - (x * x) / (2 * variance), 0)
      }
      let [best, bestAt] = [-Infinity, 0]
      for (let k = from + 2; k < to - 2; k++) {
        const value = logLikelihood(samples.subarray(from, k)) + logLikelihood(samples.subarray(k, to))
        if (value > best) [best, bestAt] = [value, k]
      }
      const pick = pickOnset(samples, RATE_HZ, ONSET_S)
      expect(Math.abs((pick?.atS ?? NaN) - bestAt / RATE_HZ)).toBeLessThan(0.0003)
    }
  })

  it('is moved by less than half a millisecond by a pre-echo 25 dB below the blow, and less than its interval', () => {
    for (let seed = 0; seed < 5; seed++) {
      const clean = struckAt(seed, 0.001, ring(1000))
      const random = seededRandom(100 + seed)
      const echoed = clean.map((value, i) => {
        const before = ONSET_S - i / RATE_HZ
        return before > 0 && before < 0.02 ? value + 10 ** (-25 / 20) * random.normal() : value
      })
      const pick = pickOnset(echoed, RATE_HZ, ONSET_S)
      expect(Math.abs(lateMs(echoed))).toBeLessThan(0.5)
      expect(Math.abs((pick?.atS ?? NaN) - ONSET_S)).toBeLessThan(1.96 * (pick?.sdS ?? 0))
    }
  })

  it('is less sure of a soft rise than of a hard one', () => {
    const soft = struckAt(1, 0.001, (t) => ring(300)(t) * (1 - Math.exp(-t / 0.004)))
    const hard = struckAt(1, 0.001, ring(2000))
    const [softSdS, hardSdS] = [soft, hard].map((samples) => pickOnset(samples, RATE_HZ, ONSET_S)?.sdS ?? NaN)
    expect(softSdS).toBeGreaterThan(1.5 * (hardSdS ?? NaN))
  })

  it('is nothing in silence and in a stretch of a few samples', () => {
    expect(pickOnset(new Float32Array(RATE_HZ), RATE_HZ, 0.5)).toBeNull()
    expect(pickOnset(Float32Array.from([0, 0, 1, 1]), RATE_HZ, 0)).toBeNull()
  })
})

describe('how it rings', () => {
  const rings = (valueAt: (t: number, random: () => number) => number) =>
    howItRings(struckAt(1, 0.001, valueAt), RATE_HZ, 150, ONSET_S)

  it('knows a blow: loudest at once, then dying away, be it short or ringing on for a second', () => {
    expect(rings(hiss)).toBe('struck')
    expect(rings(ring(200))).toBe('struck')
    expect(rings((t) => Math.sin(2 * Math.PI * 2000 * t) * Math.exp(-t / 0.15))).toBe('struck')
  })

  it('knows a voice: it swells', () => {
    expect(rings((t) => Math.min(1, t / 0.06) * Math.sin(2 * Math.PI * 400 * t))).toBe('swells')
  })

  it('knows a whistle: it lasts', () => {
    expect(rings((t) => Math.sin(2 * Math.PI * 2500 * t))).toBe('lasts')
  })

  it('knows two blows 20 ms apart', () => {
    const short = (t: number) => (t > 0 ? Math.sin(2 * Math.PI * 1500 * t) * Math.exp(-t / 0.004) : 0)
    expect(rings((t) => short(t) + short(t - 0.02))).toBe('twice')
    expect(rings((t) => short(t))).toBe('struck')
  })
})

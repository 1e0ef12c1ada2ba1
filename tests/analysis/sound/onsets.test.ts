import { describe, expect, it } from 'vitest'
import { seededRandom } from '../../../analysis/numeric/random.ts'
import { octavesOf } from '../../../analysis/sound/octaves.ts'
import { onsetsInRun, onsetsOf } from '../../../analysis/sound/onsets.ts'
import { risesOf } from '../../../analysis/sound/rises.ts'

const RATE_HZ = 22_050

/** White noise that gets louder by `stepDb` for 0.2 s from each of the given times on. */
function noiseWithSteps(seed: number, stepDb: number, stepsS: readonly number[]): Float32Array {
  const random = seededRandom(seed)
  return Float32Array.from({ length: 3 * RATE_HZ }, (_, i) => {
    const louder = stepsS.some((atS) => i / RATE_HZ >= atS && i / RATE_HZ < atS + 0.2)
    return 0.01 * random.normal() * (louder ? 10 ** (stepDb / 20) : 1)
  })
}

const risesIn = (samples: Float32Array) => risesOf(octavesOf(samples, RATE_HZ))

describe('rises', () => {
  it('are as high as the step over twice the background, octave by octave', () => {
    // Closed form: (after + background) / (before + background) with the background once in each is (10 + 1) / 2.
    const seeds = Array.from({ length: 20 }, (_, seed) => seed)
    const bandsOf = seeds.map((seed) => risesIn(noiseWithSteps(seed, 10, [1.5])).bands)
    for (const b of [0, 1, 2]) {
      const meanDb = bandsOf.reduce((sum, bands) => sum + (bands[b]?.riseDb[1500] ?? NaN), 0) / seeds.length
      expect(Math.abs(meanDb - 10 * Math.log10(11 / 2))).toBeLessThan(0.8)
    }
  })

  it('are nothing where a look would reach beyond the sound', () => {
    for (const band of risesIn(noiseWithSteps(1, 0, [])).bands) {
      expect(band.riseDb[0]).toBe(0)
      expect(band.riseDb[band.riseDb.length - 1]).toBe(0)
    }
  })

  it('are the same for the same sound at another volume', () => {
    const samples = noiseWithSteps(2, 15, [1.5])
    const [loud, soft] = [risesIn(samples), risesIn(samples.map((value) => value / 4))]
    loud.bands.forEach((band, b) => {
      band.riseDb.forEach((rise, i) => expect(soft.bands[b]?.riseDb[i]).toBeCloseTo(rise, 3))
    })
  })
})

describe('onsets', () => {
  it('are found within 5 ms of each step and nowhere else', () => {
    const strong = onsetsOf(risesIn(noiseWithSteps(3, 20, [0.7, 1.6, 2.3]))).filter((onset) => onset.score >= 6)
    expect(strong).toHaveLength(3)
    ;[0.7, 1.6, 2.3].forEach((atS, i) => expect(Math.abs((strong[i]?.atS ?? 0) - atS)).toBeLessThan(0.005))
  })

  it('are none in steady noise', () => {
    for (let seed = 0; seed < 10; seed++) {
      const onsets = onsetsOf(risesIn(noiseWithSteps(seed, 0, [])))
      expect(onsets.filter((onset) => onset.score >= 6 && onset.riseDb >= 6)).toEqual([])
    }
  })

  it('are counted in the octaves asked for only', () => {
    const random = seededRandom(4)
    const samples = Float32Array.from({ length: 3 * RATE_HZ }, (_, i) => {
      const t = i / RATE_HZ - 1.5
      return 0.01 * random.normal() + (t > 0 ? Math.sin(2 * Math.PI * 245 * t) * Math.exp(-t / 0.05) : 0)
    })
    const rises = risesIn(samples)
    const bandOf = (hz: number) => rises.bands.findIndex((band) => band.lowHz <= hz && band.highHz > hz)
    const near = (hz: number) =>
      onsetsInRun(rises, { first: bandOf(hz), last: bandOf(hz) }).filter((onset) => Math.abs(onset.atS - 1.5) < 0.02)
    expect(near(245)[0]?.riseDb).toBeGreaterThan(10)
    expect(near(4000)).toEqual([])
  })
})

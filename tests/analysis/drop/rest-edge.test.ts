import { describe, expect, test } from 'vitest'
import { leavesRest, type Distance, type Way } from '../../../analysis/drop/rest-edge.ts'
import { seededRandom } from '../../../analysis/numeric/random.ts'

const EVENLY = { gentle: 0.5, slackM: 0, unfinished: 0 }
const AT_ONCE = { gentle: 1e-9, slackM: 0, unfinished: 0 }
const NOISE_M = 3e-4
const SEEN_M = 0.015

describe('something that lay still', () => {
  test('and leaves at 3 mm a frame began where the line through its places meets rest, or up to a frame before if gently', () => {
    const places = [0, 0, 0, 0, 0, 0, 0.0015, 0.0045, 0.0075, 0.0105, 0.0135, 0.0165]
    const { value } = leavesRest(atRate(25, places), 0.04, EVENLY)
    expect(value).toBeGreaterThan(4.7 * 0.04)
    expect(value).toBeLessThan(5.75 * 0.04)
    expect(leavesRest(atRate(25, places), 0.04, AT_ONCE).value).toBeCloseTo(5.5 * 0.04, 2)
  })

  test('counts as gone later when it may first move a little', () => {
    const places = [0, 0, 0, 0, 0, 0, 0.002, 0.004, 0.006, 0.008, 0.01, 0.012, 0.014, 0.016]
    const gone = (slackM: number) => leavesRest(atRate(25, places), 0.04, { ...AT_ONCE, slackM }).value
    // Up to 4 mm are two frames: on average one.
    expect(gone(0.004) - gone(0)).toBeCloseTo(0.04, 2)
  })

  test('is not taken to have left by a rising faint change that an unfinished picture explains', () => {
    const places = [0, 0, 0.0002, 0.0003, 0.0005, 0.0008, 0.0012, 0.005, 0.009, 0.013, 0.017]
    const left = (unfinished: number) => leavesRest(atRate(25, places), 0.04, { ...EVENLY, unfinished }).value
    expect(left(3)).toBeGreaterThan(left(0) + 0.02)
    expect(left(3)).toBeLessThan(6 * 0.04)
  })

  test('and is gone from one frame to the next left between them, in a third of a frame or so', () => {
    const { value, sd } = leavesRest(atRate(25, [0, 0, 0, 0, 0, 1]), 0.04, EVENLY)
    expect(value).toBeGreaterThan(4 * 0.04)
    expect(value).toBeLessThan(5 * 0.04)
    expect(sd).toBeGreaterThan(0.2 * 0.04)
    expect(sd).toBeLessThan(0.6 * 0.04)
  })
})

describe('over seeded leavings, gentle and sudden, at 25 to 240 frames a second', () => {
  const trials = [25, 30, 60, 240].flatMap((rateHz) =>
    Array.from({ length: 40 }, (_, n) => trial(rateHz, 50 * n + rateHz)),
  )

  test('the start lies in its 95 % interval about 95 times in 100', () => {
    const inside = trials.filter(({ got, startS }) => got.ci95[0] <= startS && startS <= got.ci95[1])
    expect(inside.length / trials.length).toBeGreaterThan(0.91)
  })

  test('the start is off by less than half a frame, or 10 ms, in the median', () => {
    const off = trials.map(({ got, startS, rateHz }) => Math.abs(got.value - startS) / Math.max(0.5 / rateHz, 0.01))
    expect(off.sort((a, b) => a - b)[off.length / 2]).toBeLessThan(1)
  })
})

function atRate(rateHz: number, places: readonly number[]): Way {
  return { distances: places.map((distanceM, n) => ({ timeS: n / rateHz, distanceM })), noiseM: NOISE_M, seenM: SEEN_M }
}

/** A leaving with any speed a hand has, read with a scale that is off and an open shutter. */
function trial(rateHz: number, seed: number) {
  const random = seededRandom(seed)
  const startS = 0.2 + random.uniform() / rateHz
  const power = random.uniform() < 0.5 ? 1 : 2
  const reachM = 0.005 * 60 ** random.uniform()
  const scale = 1 + 0.2 * random.normal()
  const shutterS = (0.5 * random.uniform()) / rateHz
  const distances: Distance[] = []
  for (let n = 0; n / rateHz < 1; n++) {
    const opens = Array.from({ length: 8 }, (_, k) => n / rateHz + shutterS * ((k + 0.5) / 8 - 0.5))
    const places = opens.map((timeS) => reachM * (Math.max(timeS - startS, 0) / 0.1) ** power)
    const mean = places.reduce((sum, place) => sum + place, 0) / opens.length
    distances.push({ timeS: n / rateHz, distanceM: Math.abs(scale * mean + NOISE_M * random.normal()) })
    if (mean > SEEN_M) break
  }
  return { rateHz, startS, got: leavesRest({ distances, noiseM: NOISE_M, seenM: SEEN_M }, 1 / rateHz, EVENLY) }
}

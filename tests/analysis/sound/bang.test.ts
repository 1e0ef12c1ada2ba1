import { describe, expect, it } from 'vitest'
import { seededRandom } from '../../../analysis/numeric/random.ts'
import { findBang } from '../../../analysis/sound/bang.ts'
import type { BangResult } from '../../../analysis/sound/bang.ts'
import type { Sound } from '../../../analysis/sound/sound.ts'
import { between, Scene } from './scene.ts'

const RATE_HZ = 22_050
const HEARD_S = 2
const DISTANCE = { distanceM: 6.86, sdM: 0.1 }
/** 6.86 m at 343 m/s. */
const WAY_S = 0.02
const SEEN = { groundedS: HEARD_S - WAY_S, sdS: 0.006 }
const OPTIONS = { frameS: 1 / 30, temperatureC: 20 }

function sceneOf(seed: number, fill: (scene: Scene) => void, lengthS = 4): Sound {
  const scene = new Scene(lengthS, RATE_HZ, seededRandom(seed))
  scene.wind(-50)
  fill(scene)
  return { samples: scene.samples, rateHz: RATE_HZ, startS: 0, slowMotionFactor: 1 }
}

function heardS(result: BangResult): number {
  if (result.heard.kind !== 'measured') throw new Error(`not heard: ${result.why}`)
  return result.heard.value
}

function expectWithheld(result: BangResult, reason: string, why: RegExp): void {
  expect(result.clear).toBe(false)
  expect(result.why).toMatch(why)
  for (const estimate of [result.heard, result.groundedFromSound]) {
    expect(estimate).toEqual({ kind: 'withheld', reason, detail: result.why })
  }
}

describe('a clear bang', () => {
  it('is timed within its interval on a wooden and on an aluminium board', () => {
    for (let seed = 0; seed < 6; seed++) {
      const sound = sceneOf(seed, (scene) =>
        seed % 2 === 0 ? scene.woodBang(HEARD_S, -25) : scene.aluminiumBang(HEARD_S, -25),
      )
      const { heard, clear, why } = findBang(sound, SEEN, DISTANCE, OPTIONS)
      if (!clear) throw new Error(why)
      if (heard.kind !== 'measured') throw new Error('clear, but not measured')
      expect(heard.ci95[0]).toBeLessThanOrEqual(HEARD_S)
      expect(heard.ci95[1]).toBeGreaterThanOrEqual(HEARD_S)
      expect(heard.sd).toBeLessThan(0.002)
    }
  })

  it('puts the landing earlier by the way through the air, less surely than it was heard', () => {
    const sound = sceneOf(1, (scene) => scene.aluminiumBang(HEARD_S, -25))
    const { heard, groundedFromSound } = findBang(sound, SEEN, DISTANCE, OPTIONS)
    if (heard.kind !== 'measured' || groundedFromSound.kind !== 'measured') throw new Error('not heard')
    expect(heard.value - groundedFromSound.value).toBeCloseTo(WAY_S, 4)
    expect(groundedFromSound.sd).toBeGreaterThan(0.005)
    expect(groundedFromSound.sd).toBeLessThan(0.006)
  })

  it('is the same bang wherever the clip starts and however loud it is', () => {
    const sound = sceneOf(2, (scene) => scene.woodBang(HEARD_S, -25))
    const here = heardS(findBang(sound, SEEN, DISTANCE, OPTIONS))
    const later = { ...SEEN, groundedS: SEEN.groundedS + 7.3 }
    expect(heardS(findBang({ ...sound, startS: 7.3 }, later, DISTANCE, OPTIONS))).toBeCloseTo(here + 7.3, 6)
    const soft = { ...sound, samples: sound.samples.map((value) => value / 10) }
    expect(heardS(findBang(soft, SEEN, DISTANCE, OPTIONS))).toBeCloseTo(here, 6)
  })

  it('is found between claps, barks and voices before and after it', () => {
    const sound = sceneOf(3, (scene) => {
      scene.clap(1.2, -20)
      scene.bark(0.5, -15)
      scene.voice(2.6, -20)
      scene.aluminiumBang(HEARD_S, -25)
    })
    expect(Math.abs(heardS(findBang(sound, SEEN, DISTANCE, OPTIONS)) - HEARD_S)).toBeLessThan(0.001)
  })
})

describe('slowed sound', () => {
  /** The same sound with eight times the samples: straight lines between the old ones. */
  const stretched = (sound: Sound): Sound => ({
    ...sound,
    slowMotionFactor: 8,
    samples: Float32Array.from({ length: 8 * sound.samples.length - 7 }, (_, i) => {
      const [at, part] = [Math.floor(i / 8), (i % 8) / 8]
      return (sound.samples[at] ?? 0) * (1 - part) + (sound.samples[at + 1] ?? 0) * part
    }),
  })

  it('gives the same real time as the sound it was stretched from', () => {
    for (const [seed, kind] of [
      [4, 'woodBang'],
      [5, 'aluminiumBang'],
    ] as const) {
      const sound = sceneOf(seed, (scene) => scene[kind](HEARD_S, -25))
      const plain = heardS(findBang(sound, SEEN, DISTANCE, OPTIONS))
      const slowed = heardS(findBang(stretched(sound), SEEN, DISTANCE, { ...OPTIONS, frameS: 1 / 240 }))
      expect(Math.abs(slowed - plain)).toBeLessThan(0.0002)
    }
  })

  it('taken for ordinary sound is not mistaken for a landing in time', () => {
    const slowed = stretched(sceneOf(5, (scene) => scene.aluminiumBang(HEARD_S, -25)))
    const seen = { groundedS: 8 * SEEN.groundedS, sdS: 8 * SEEN.sdS }
    const result = findBang({ ...slowed, slowMotionFactor: 1 }, seen, DISTANCE, { frameS: 1 / 30 })
    expect(result.clear).toBe(false)
  })
})

describe('the sound is not used', () => {
  const withheldFor = (fill: (scene: Scene) => void, options = {}) =>
    findBang(sceneOf(6, fill), SEEN, DISTANCE, { ...OPTIONS, ...options })

  it('when the clip has no sound or only silence', () => {
    for (const samples of [new Float32Array(0), new Float32Array(4 * RATE_HZ)]) {
      const silent = { samples, rateHz: RATE_HZ, startS: 0, slowMotionFactor: 1 }
      expectWithheld(findBang(silent, SEEN, DISTANCE), 'no-sound', /no sound/)
    }
  })

  it('when it ends before the landing can be heard', () => {
    const cut = sceneOf(6, (scene) => scene.woodBang(HEARD_S, -25), HEARD_S + 0.05)
    expectWithheld(findBang(cut, SEEN, DISTANCE), 'clip-ends', /ends too early/)
  })

  it('when nothing stands out', () => {
    expectWithheld(
      withheldFor(() => undefined),
      'not-clear',
      /No sharp sound stands out/,
    )
  })

  it('when the bang is no louder than a dozen paw steps', () => {
    const steps = withheldFor((scene) => {
      for (let at = 0.3; at < 3.8; at += 0.28) scene.step(at, -30)
      scene.step(HEARD_S, -30)
    })
    expectWithheld(steps, 'not-clear', /other sounds .* by accident/)
  })

  it('when two sharp sounds compete within the time allowed', () => {
    const two = withheldFor((scene) => {
      scene.clap(HEARD_S - 0.03, -25)
      scene.aluminiumBang(HEARD_S + 0.01, -25)
    })
    expectWithheld(two, 'not-clear', /Two sharp sounds/)
  })

  it('when a voice sets in there', () => {
    expectWithheld(
      withheldFor((scene) => scene.voice(HEARD_S, -20)),
      'not-clear',
      /swells or lasts|too softly|No sharp sound/,
    )
  })

  it('when a wooden board seems to land with a high click', () => {
    const click = (scene: Scene) =>
      scene.add(HEARD_S, 0.05, -25, (t) =>
        t > 0 ? (1 - Math.exp(-t / 0.001)) * Math.sin(2 * Math.PI * 4000 * t) * Math.exp(-t / 0.008) : 0,
      )
    expectWithheld(withheldFor(click, { materialWord: 'wood' }), 'not-clear', /too high for a wooden board/)
    expect(withheldFor(click, { materialWord: 'aluminium' }).clear).toBe(true)
  })

  it('when the only bang comes far too late, and says so', () => {
    const late = withheldFor((scene) => scene.aluminiumBang(HEARD_S + 0.12, -25))
    expectWithheld(late, 'not-clear', /12\d ms too late .* out of step/)
  })
})

/** A field with wind, trotting steps and up to two claps, barks and voices; the landing seen and heard with real errors. */
function field(seed: number, bangOverWindDb: number | null) {
  const random = seededRandom(seed)
  const scene = new Scene(4, RATE_HZ, random)
  const windDb = between(random, -55, -35)
  scene.everyday(windDb, Math.floor(between(random, 0, 3)))
  const fps = [25, 30, 50, 60][Math.floor(4 * random.uniform())] ?? 30
  const groundedS = between(random, 1.4, 2.6)
  const distanceM = between(random, 4, 12)
  const speedMps = between(random, 331.3, 351.9)
  const arrivesS = groundedS + distanceM / speedMps + 0.005 * random.normal()
  if (bangOverWindDb !== null) {
    if (random.uniform() < 0.5) scene.woodBang(arrivesS, windDb + bangOverWindDb)
    else scene.aluminiumBang(arrivesS, windDb + bangOverWindDb)
  }
  const sdS = between(random, 0.1, 0.5) / fps
  const result = findBang(
    { samples: scene.samples, rateHz: RATE_HZ, startS: 0, slowMotionFactor: 1 },
    { groundedS: groundedS + sdS * random.normal(), sdS },
    { distanceM: distanceM + 0.15 * random.normal(), sdM: 0.15 },
    { frameS: 1 / fps },
  )
  return { result, groundedS, arrivesS }
}

describe('on many simulated fields', () => {
  const TRIALS = 60
  const trials = (bangOverWindDb: number | null, firstSeed: number) =>
    Array.from({ length: TRIALS }, (_, i) => field(firstSeed + i, bangOverWindDb))

  it('a bang is claimed in fewer than 2 % of the fields without one', () => {
    const claimed = [...trials(null, 20_000), ...trials(null, 30_000)].filter(({ result }) => result.clear)
    expect(claimed.length).toBeLessThan(0.02 * 2 * TRIALS)
  })

  it('a bang 25 dB over the wind is found in nine of ten, never a wrong one, and its intervals hold', () => {
    let [found, heldHeard, heldGrounded] = [0, 0, 0]
    for (const { result, groundedS, arrivesS } of trials(25, 40_000)) {
      const { heard, groundedFromSound } = result
      if (heard.kind !== 'measured' || groundedFromSound.kind !== 'measured') continue
      found++
      expect(Math.abs(heard.value - arrivesS)).toBeLessThan(0.005)
      if (heard.ci95[0] <= arrivesS && arrivesS <= heard.ci95[1]) heldHeard++
      if (groundedFromSound.ci95[0] <= groundedS && groundedS <= groundedFromSound.ci95[1]) heldGrounded++
    }
    expect(found).toBeGreaterThanOrEqual(0.9 * TRIALS)
    // 95 % within three binomial sds of that many trials.
    expect(heldHeard / found).toBeGreaterThan(0.885)
    expect(heldGrounded / found).toBeGreaterThan(0.885)
  })
})

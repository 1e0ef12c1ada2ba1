import { Random, wander } from '../random.ts'
import type { Scenario } from '../scenario.ts'
import type { Recording } from '../simulation/recording.ts'
import { norm, subtract, type Vec3 } from '../world/vector.ts'
import { impactsOf, type Impact } from './impacts.ts'
import { bark, call, clap, RATE_HZ, strike } from './voices.ts'

export const SOUND_MPS = 343

/** What the phone hears, from -1 to 1: wind, the board, paws and the neighbourhood, each late by its way through the air. */
export function soundtrack(scenario: Scenario, recording: Recording, microphone: Vec3): Float32Array {
  const random = new Random(scenario.seed).fork('sound')
  const wave = wind(Math.round(scenario.durationS * RATE_HZ), scenario.sound.windLevel, random)
  const mixIn = (sound: Float32Array, heardS: number, gain: number): void => {
    const start = Math.round(heardS * RATE_HZ)
    for (let i = 0; i < sound.length && start + i < wave.length; i++)
      if (start + i >= 0) wave[start + i]! += gain * sound[i]!
  }
  for (const impact of impactsOf(scenario, recording)) {
    const distanceM = norm(subtract(impact.where, microphone))
    mixIn(
      strike(thing(scenario, impact), random),
      impact.atS + distanceM / SOUND_MPS,
      (0.22 * impact.strength * 6) / distanceM,
    )
  }
  for (const { kind, atS, distanceM } of scenario.sound.others) {
    const sound = { bark, clap, voice: call, thud: (r: Random) => strike('thud', r) }[kind](random)
    mixIn(sound, atS + distanceM / SOUND_MPS, 2.2 / Math.max(3, distanceM))
  }
  return wave.map((value) => Math.tanh(value))
}

function thing(scenario: Scenario, impact: Impact): Parameters<typeof strike>[0] {
  if (impact.kind === 'paw') return 'paw'
  return scenario.board.groundStiffnessNPerM === undefined ? scenario.board.material : 'softGround'
}

/** Noise that rumbles and swells, and the phone's own hiss. */
function wind(samples: number, level: number, random: Random): Float32Array {
  const swell = wander(random, 0.15, 1.5)
  let low = 0
  let lower = 0
  let gust = 1
  return Float32Array.from({ length: samples }, (_, i) => {
    low += 0.02 * (random.normal() - low)
    lower += 0.03 * (low - lower)
    if (i % 480 === 0) gust = Math.exp(0.5 * swell(i / RATE_HZ))
    return level * gust * (0.7 * lower + 0.05 * low) + 0.0008 * random.normal()
  })
}

import { Random } from '../../sample-clips/random.ts'
import { randomScenario } from '../../sample-clips/random-scenario.ts'
import type { CameraSpec, Scenario } from '../../sample-clips/scenario.ts'

/** Ways in which phones are held, each hard for finding the plank in its own way. */
export const FILMED = ['plain', 'knee', 'stand', 'oblique', 'hand', 'pan', 'poor'] as const

export type Filmed = (typeof FILMED)[number]

/**
 * An invented clip filmed in one way; dog, board, field and all else by chance. Only rides and drops that tip the board:
 * nothing shows a plank that never moves.
 *
 * @param filmed in which way
 * @param seed of the set
 * @param number within the set
 */
export function findingScenario(filmed: Filmed, seed: number, number: number): Scenario {
  const scenario = randomScenario(seed, 100 * FILMED.indexOf(filmed) + number)
  const { action } = scenario
  const random = new Random(scenario.seed).fork(`filmed ${filmed}`)
  const tips = action.kind === 'dropTest' || action.ending.kind !== 'bail-off'
  if (!tips) return findingScenario(filmed, seed, number + 50)
  return {
    ...scenario,
    name: `${filmed}-${seed}-${String(number).padStart(2, '0')}`,
    camera: filmedSo(scenario.camera, filmed, random),
    sound: { ...scenario.sound, present: false },
  }
}

/** The finding looks at so many frames a second; more would only take longer to draw. */
const RATE_HZ = 5

/** The same phone elsewhere, its pictures smaller and fewer, which are drawn within seconds. */
function filmedSo(any: CameraSpec, filmed: Filmed, random: Random): CameraSpec {
  const [widthPx, heightPx] = any.turned ? [480, 848] : [704, 396]
  const camera = { ...any, widthPx, heightPx, captureHz: RATE_HZ, fileHz: RATE_HZ, follow: 0, shakePx: 0 }
  switch (filmed) {
    case 'plain':
      return camera
    case 'knee':
      return { ...camera, heightM: random.between(0.3, 0.55), shakePx: random.pick([0, 1.5]) }
    case 'stand':
      return { ...camera, heightM: random.between(2.6, 3.2), distanceM: Math.max(6, camera.distanceM) }
    case 'oblique':
      return { ...camera, yawDeg: random.pick([-1, 1]) * random.between(28, 36) }
    case 'hand':
      return { ...camera, shakePx: random.between(3, 8), rollingShutterS: random.between(0, 0.02) }
    case 'pan':
      return { ...camera, shakePx: random.between(1, 4), follow: random.between(0.1, 0.25) }
    case 'poor':
      return { ...camera, ...poor(camera, random) }
  }
}

/** As a messenger sends it on: small, and coded sparingly. */
function poor({ turned }: CameraSpec, random: Random): Partial<CameraSpec> {
  return {
    widthPx: turned ? 360 : 640,
    heightPx: turned ? 640 : 360,
    crf: random.integer(31, 36),
    noise: random.between(0.01, 0.025),
    blurPx: random.between(0.5, 0.9),
    shakePx: random.pick([0, 0, 3]),
  }
}

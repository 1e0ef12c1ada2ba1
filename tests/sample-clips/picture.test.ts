import { expect, test } from 'vitest'
import { FULL_BOARD, HERDER, MEADOW, TRIPOD } from '../../sample-clips/parts.ts'
import { MarkedPoints, type Px } from '../../sample-clips/files/marked-points.ts'
import { DogMasks } from '../../sample-clips/picture/dog-mask.ts'
import { Renderer } from '../../sample-clips/picture/renderer.ts'
import type { CameraSpec, RideAction, Scenario } from '../../sample-clips/scenario.ts'
import { record } from '../../sample-clips/simulation/recording.ts'

const small = (camera: Partial<CameraSpec>): Scenario => ({
  name: 'small',
  description: '',
  seed: 1,
  durationS: 0.3,
  board: { ...FULL_BOARD, middleColour: [0.9, 0, 0], zoneColour: [0, 0, 0.9] },
  action: {
    kind: 'ride',
    dog: HERDER,
    handler: null,
    startS: 9,
    startAlongM: -4,
    approachMps: 1,
    climbMps: 1,
    tipMps: 1,
    pauses: [],
    ending: { kind: 'run-through' },
    leaveMps: 1,
    gallops: false,
  },
  camera: { ...TRIPOD, widthPx: 480, heightPx: 270, focalMmEquivalent: 30, ...camera },
  field: MEADOW,
  sound: { present: false, windLevel: 0, others: [] },
})

test.each<[string, Partial<CameraSpec>]>([
  ['straight lines', {}],
  ['bent lines, from the other side', { distortionK: -0.06, side: -1, yawDeg: 12 }],
  ['by hand, row by row', { shakePx: 3, rollingShutterS: 0.02 }],
])('the marks lie where the plank is drawn: %s', (_, camera) => {
  const scenario = small(camera)
  const recording = record(scenario)
  const renderer = new Renderer(scenario, recording)
  const light = new Float32Array(3 * 480 * 270)
  renderer.frame(0.1, light)
  const points = new MarkedPoints(scenario, recording, renderer.camera, (t) => renderer.pose(t)).at(0.1)
  const colourAt = ([x, y]: Px): readonly number[] => {
    const i = 3 * (Math.floor(y) * 480 + Math.floor(x))
    return [light[i]!, light[i + 1]!, light[i + 2]!]
  }
  const between = (a: Px, b: Px, share: number): Px => [a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share]
  const isRed = (c: readonly number[]): boolean => c[0]! > 4 * c[1]! && c[0]! > 4 * c[2]!
  const isBlue = (c: readonly number[]): boolean => c[2]! > 4 * c[0]! && c[2]! > 4 * c[1]!
  const below = (p: Px): Px => [p[0], p[1] + 2]
  const { entryEnd, upContactEdge, pivot, downContactEdge, exitEnd } = points
  // Just below the near top edge the side face shows: blue in the zones, red between, with the borders at the marks.
  expect(isBlue(colourAt(below(between(entryEnd, upContactEdge, 0.95))))).toBe(true)
  expect(isRed(colourAt(below(between(upContactEdge, pivot, 0.06))))).toBe(true)
  expect(isRed(colourAt(below(between(downContactEdge, pivot, 0.06))))).toBe(true)
  expect(isBlue(colourAt(below(between(downContactEdge, exitEnd, 0.05))))).toBe(true)
  expect(isBlue(colourAt(below(between(downContactEdge, exitEnd, 0.97))))).toBe(true)
  expect(isBlue(colourAt(below(between(downContactEdge, exitEnd, 1.04))))).toBe(false)
  expect(isBlue(colourAt(below(between(upContactEdge, entryEnd, 1.04))))).toBe(false)
})

test('the mask of the dog lies where the dog is drawn, and is empty of what is before it', () => {
  const scenario: Scenario = {
    ...small({}),
    durationS: 3,
    action: { ...(small({}).action as RideAction), startS: 0.2, startAlongM: -1, approachMps: 2, climbMps: 2 },
  }
  const recording = record(scenario)
  const renderer = new Renderer(scenario, recording)
  const mask = new DogMasks(scenario, recording).at(1.2)!
  const box = renderer.dogBox(1.2)!
  const seen = [...mask.keys()].filter((i) => mask[i] === 1)
  const columns = seen.map((i) => i % 480)
  const rows = seen.map((i) => Math.floor(i / 480))
  expect(Math.min(...columns)).toBeCloseTo(box.left, -0.5)
  expect(Math.max(...columns)).toBeCloseTo(box.right, -0.5)
  expect(Math.min(...rows)).toBeCloseTo(box.top, -0.5)
  // Paws on the far half are partly hidden by nothing, those below the near edge would be: the box may reach lower.
  expect(Math.max(...rows)).toBeLessThanOrEqual(Math.ceil(box.bottom))
  // A dog fills between a fifth and two thirds of its box.
  const share = seen.length / ((box.right - box.left) * (box.bottom - box.top))
  expect(share).toBeGreaterThan(0.2)
  expect(share).toBeLessThan(0.67)
})

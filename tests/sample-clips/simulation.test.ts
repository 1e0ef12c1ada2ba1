import { describe, expect, test } from 'vitest'
import { CLIPS } from '../../sample-clips/clip-list.ts'
import { FULL_BOARD } from '../../sample-clips/parts.ts'
import { randomScenario } from '../../sample-clips/random-scenario.ts'
import type { BoardSpec } from '../../sample-clips/scenario.ts'
import { BoardMotion } from '../../sample-clips/simulation/board-motion.ts'
import { groundedAngleRad } from '../../sample-clips/simulation/board-place.ts'
import { pawTruth, rideEvents } from '../../sample-clips/simulation/events.ts'
import { record } from '../../sample-clips/simulation/recording.ts'

const clip = (name: string) => CLIPS.find((c) => c.name === name)!

test('a board without friction lands with the energy that its load gave it', () => {
  const board: BoardSpec = { ...FULL_BOARD, viscousNms: 0, coulombNm: 0, restitution: 1 }
  const motion = new BoardMotion(board)
  const load = { alongM: 3.2, aboveM: 0.05, massKg: 1, factor: 1 }
  const [d, n] = [3.2 - board.lengthM / 2, board.axisBelowTopM + 0.05]
  let rateRadps = 0
  for (let i = 0; i < 20_000 && motion.metGroundAfterS === null; i++) {
    rateRadps = motion.rateRadps
    motion.step(0.0005, [load], false)
  }
  // Work: weight times its drop, less the bias torque's integral over the angle; by hand from the rest angles -a and a.
  const a = groundedAngleRad(board)
  const dropM = 2 * d * Math.sin(a)
  const workJ = 9.80665 * dropM - board.biasTorqueNm * 2 * Math.sin(a)
  const inertia = board.inertiaKgM2 + d * d + n * n
  expect(rateRadps).toBeCloseTo(Math.sqrt((2 * workJ) / inertia), 2)
})

test('a board whose load is too small for its balance stays at rest', () => {
  const motion = new BoardMotion(FULL_BOARD)
  const restRad = motion.angleRad
  for (let i = 0; i < 2000; i++) motion.step(0.0005, [{ alongM: 2.4, aboveM: 0, massKg: 1, factor: 1 }], false)
  expect(motion.angleRad).toBe(restRad)
})

describe.each(CLIPS.filter((c) => c.action.kind === 'ride').map((c) => [c.name]))('%s', (name) => {
  const scenario = clip(name)
  const recording = record(scenario)

  test('a paw that stands on the plank does not slide', () => {
    for (const paw of [0, 1, 2, 3]) {
      const path = recording.instants.map((instant) => pawTruth(scenario, instant, paw))
      const steps = path.slice(1).flatMap((p, i) => {
        const standing = [p, path[i]!].every((q) => q.touching && Math.abs(q.height) < 1e-6)
        return standing ? [Math.abs(p.s - path[i]!.s)] : []
      })
      expect(steps.length).toBeGreaterThan(100)
      expect(Math.max(...steps)).toBeLessThan(2e-3)
    }
  })

  test('no paw passes through the plank', () => {
    const inside = recording.instants.flatMap((instant) =>
      [0, 1, 2, 3]
        .map((paw) => pawTruth(scenario, instant, paw))
        .filter((p) => p.s > 0.05 && p.s < scenario.board.lengthM - 0.05 && p.height < -0.02 && p.height > -0.1),
    )
    expect(inside).toEqual([])
  })
})

test('Wren holds: settled before the landing, off after it, both zones touched', () => {
  const scenario = clip('wren-hold')
  const events = rideEvents(scenario, record(scenario), scenario.durationS)
  expect(events.groundedS! - events.settleS!).toBeGreaterThan(0.1)
  expect(events.leftPlankS! - events.groundedS!).toBeGreaterThan(0.5)
  expect([events.zones.up.touched, events.zones.down.touched]).toEqual([true, true])
})

test('Pilot leaves between tip and landing', () => {
  const scenario = clip('pilot-early-leap')
  const { tipStartS, groundedS, leftPlankS, settleS } = rideEvents(scenario, record(scenario), scenario.durationS)
  expect(leftPlankS!).toBeGreaterThan(tipStartS!)
  expect(leftPlankS!).toBeLessThan(groundedS!)
  expect(settleS).toBeNull()
})

test('Juno never touches the down contact', () => {
  const scenario = clip('juno-missed-contact')
  const events = rideEvents(scenario, record(scenario), scenario.durationS)
  expect(events.zones.down).toEqual({ touched: false, firstS: null, lastS: null })
  expect(events.leftPlankS!).toBeGreaterThan(events.groundedS!)
})

test('the same seed invents the same scenario, another seed another', () => {
  expect(randomScenario(3, 1)).toEqual(randomScenario(3, 1))
  expect(randomScenario(4, 1)).not.toEqual(randomScenario(3, 1))
})

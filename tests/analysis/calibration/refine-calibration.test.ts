import { describe, expect, test } from 'vitest'
import { calibrate } from '../../../analysis/calibration/calibrate.ts'
import { refineCalibration } from '../../../analysis/calibration/refine-calibration.ts'
import type { Calibration, SeesawCamera } from '../../../analysis/calibration/seesaw-camera.ts'
import { seededRandom, type Random } from '../../../analysis/numeric/random.ts'
import { simulatedSeesaw, trackedBoard, type SimulatedSeesaw } from './simulated-seesaw.ts'

const TRIALS = 40

interface Trial extends SimulatedSeesaw {
  readonly clicked: Calibration
  readonly refined: Calibration
}

function trials(random: Random, features: 'edges' | 'edges and ends'): Trial[] {
  return Array.from({ length: TRIALS }, () => simulatedSeesaw(random)).flatMap((scene) => {
    const outcome = calibrate(scene.board, scene.marks, scene.picture, { groundedShiftSdPx: 0.5 })
    if (outcome.kind === 'impossible') return []
    const clicked = outcome.calibration
    return [{ ...scene, clicked, refined: refineCalibration(clicked, trackedBoard(scene, random, features)) }]
  })
}

function spread({ best, draws }: Calibration, value: (camera: SeesawCamera) => number): number {
  const middle = value(best)
  return Math.sqrt(draws.reduce((sum, draw) => sum + (value(draw) - middle) ** 2, 0) / draws.length)
}

function rms(values: readonly number[]): number {
  return Math.sqrt(values.reduce((sum, value) => sum + value * value, 0) / values.length)
}

describe.each([
  ['edges', 1.1, 1.1],
  ['edges and ends', 3, 0.5],
] as const)('over simulated clips whose %s were tracked from rest to landing', (features, swingGain, pawShare) => {
  const all = trials(seededRandom(31), features)
  const swing = (camera: SeesawCamera): number => camera.groundedAngleRad - camera.restAngleRad
  const paw = ({ truth }: Trial) => {
    const point = truth.imageFromPlank({ alongM: 2.6, aboveM: 0, acrossM: 0.15 }, 0.1)
    return (camera: SeesawCamera): number => camera.plankFromImage(point, 0.1, 0.15).alongM
  }

  test(`the swing is known at least ${swingGain} times better than from clicks`, () => {
    expect(all.length).toBeGreaterThan(0.95 * TRIALS)
    const error = (which: 'clicked' | 'refined'): number => rms(all.map((t) => swing(t[which].best) - swing(t.truth)))
    expect(error('refined')).toBeLessThan(error('clicked') / swingGain)
  })

  test(`paws behind the near edge are placed with at most ${pawShare} of the clicks’ error`, () => {
    const error = (which: 'clicked' | 'refined'): number => rms(all.map((t) => paw(t)(t[which].best) - 2.6))
    expect(error('refined')).toBeLessThan(pawShare * error('clicked'))
  })

  test('95 % intervals of swing, rest angle and paw hold the truth in at least 85 %', () => {
    const held = (value: (t: Trial) => (camera: SeesawCamera) => number, truth: (t: Trial) => number): number =>
      all.filter((t) => Math.abs(value(t)(t.refined.best) - truth(t)) <= 1.96 * spread(t.refined, value(t))).length /
      all.length
    expect(
      held(
        () => swing,
        (t) => swing(t.truth),
      ),
    ).toBeGreaterThan(0.85)
    expect(
      held(
        () => (c) => c.restAngleRad,
        (t) => t.truth.restAngleRad,
      ),
    ).toBeGreaterThan(0.85)
    expect(held(paw, () => 2.6)).toBeGreaterThan(0.85)
  })
})

describe('one clip', () => {
  const random = seededRandom(8)
  const scene = simulatedSeesaw(random)
  const outcome = calibrate(scene.board, scene.marks, scene.picture, { groundedShiftSdPx: 0.5 })
  if (outcome.kind === 'impossible') throw new Error(outcome.reason)
  const clicked = outcome.calibration
  const frames = trackedBoard(scene, random, 'edges and ends')
  const swingSd = (calibration: Calibration): number =>
    spread(calibration, (camera) => camera.groundedAngleRad - camera.restAngleRad)

  test('without sightings the calibration stays as it was', () => {
    expect(refineCalibration(clicked, [])).toBe(clicked)
  })

  test('one wild sighting does not bend the camera', () => {
    const wild = frames.map((frame, k) =>
      k === 7
        ? {
            ...frame,
            sightings: frame.sightings.map((sighting, i) =>
              i === 2 ? { ...sighting, image: { ...sighting.image, yPx: sighting.image.yPx + 30 } } : sighting,
            ),
          }
        : frame,
    )
    const clean = refineCalibration(clicked, frames)
    const bent = refineCalibration(clicked, wild)
    expect(Math.abs(bent.best.restAngleRad - clean.best.restAngleRad)).toBeLessThan(0.3 * swingSd(bent))
  })

  test('sightings noisier than they claim widen the intervals', () => {
    const shaken = frames.map((frame) => ({
      ...frame,
      sightings: frame.sightings.map((sighting) => ({
        ...sighting,
        image: { xPx: sighting.image.xPx + 2 * random.normal(), yPx: sighting.image.yPx + 2 * random.normal() },
      })),
    }))
    const honest = swingSd(refineCalibration(clicked, frames))
    expect(swingSd(refineCalibration(clicked, shaken))).toBeGreaterThan(1.5 * honest)
  })
})

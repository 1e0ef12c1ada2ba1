import { describe, expect, test } from 'vitest'
import { calibrate } from '../../../analysis/calibration/calibrate.ts'
import { PinholeSeesaw } from '../../../analysis/calibration/pinhole-seesaw.ts'
import { plankSightings } from '../../../analysis/calibration/plank-sightings.ts'
import { refineFromStills } from '../../../analysis/calibration/refine-from-stills.ts'
import type { Calibration, SeesawCamera } from '../../../analysis/calibration/seesaw-camera.ts'
import type { Sighting } from '../../../analysis/calibration/sightings.ts'
import { identityHomography } from '../../../analysis/geometry/homography.ts'
import { seededRandom } from '../../../analysis/numeric/random.ts'
import { paintedPlank } from './painted-plank.ts'
import { BOARD, clickedMarks, frontalPose } from './simulated-seesaw.ts'

const PICTURE = { widthPx: 960, heightPx: 540 }
const truth = new PinholeSeesaw(
  frontalPose({
    focalPx: 900,
    principalXPx: 480,
    principalYPx: 270,
    yawRad: -0.2,
    pitchRad: -0.09,
    rightM: 1.1,
    heightM: 1.3,
    distanceM: 5.4,
  }),
  BOARD,
  1,
)
const frameFromReference = identityHomography()

function clickedCalibration(seed: number): Calibration {
  const marks = clickedMarks(truth, BOARD, 1.5, seededRandom(seed))
  const outcome = calibrate(BOARD, marks, PICTURE, { groundedShiftSdPx: 0.5 })
  if (outcome.kind === 'impossible') throw new Error(outcome.reason)
  return outcome.calibration
}

/** How far a sighting lies from where the true camera shows that feature, across it, px. */
function errorPx({ alongM, edge, image, normal }: Sighting, angleRad: number): number {
  const aboveM = edge === 'upper' ? 0 : -truth.thicknessM
  const exact = truth.imageFromPlank({ alongM, aboveM, acrossM: 0 }, angleRad)
  return (image.xPx - exact.xPx) * normal!.x + (image.yPx - exact.yPx) * normal!.y
}

describe('a plank painted before uneven grass', () => {
  const calibration = clickedCalibration(3)
  const angleRad = 0.05

  test('shows its lower edge within 0.2 px and its colour borders within 0.5 px, whatever the clicks said', () => {
    const frame = paintedPlank(truth, BOARD.contactM, PICTURE, angleRad, 1)
    const { sightings } = plankSightings(calibration, {
      frame,
      frameFromReference,
      angleRad: angleRad + 0.004,
      board: 'moving',
    })
    const lower = sightings.filter(({ edge }) => edge === 'lower')
    const borders = sightings.filter(({ family }) => family.startsWith('border'))
    expect(lower.length).toBeGreaterThan(7)
    expect(borders).toHaveLength(2)
    for (const sighting of lower) expect(Math.abs(errorPx(sighting, angleRad))).toBeLessThan(0.2)
    for (const sighting of borders) expect(Math.abs(errorPx(sighting, angleRad))).toBeLessThan(0.5)
  })

  test('does not offer the near top edge where the top face is seen beyond it', () => {
    const frame = paintedPlank(truth, BOARD.contactM, PICTURE, angleRad, 1)
    const { sightings } = plankSightings(calibration, { frame, frameFromReference, angleRad, board: 'moving' })
    expect(sightings.filter(({ family }) => family.startsWith('upper edge'))).toEqual([])
  })

  test('is silent where something stands before it', () => {
    const screen = { fromM: 2.1, toM: 3.2 }
    const frame = paintedPlank(truth, BOARD.contactM, PICTURE, angleRad, 1, screen)
    const { sightings } = plankSightings(calibration, { frame, frameFromReference, angleRad, board: 'moving' })
    expect(sightings.length).toBeGreaterThan(4)
    for (const { alongM } of sightings) expect(alongM < 2.1 || alongM > 3.2).toBe(true)
  })
})

describe('stills of a swing refine six clicked calibrations of it', () => {
  const angles = [-0.2, -0.05, 0.1, 0.22]
  const still = (angleRad: number, index: number) => ({
    frame: { ...paintedPlank(truth, BOARD.contactM, PICTURE, angleRad, 10 + index), index },
    frameFromReference,
    angleRad: angleRad + 0.002,
  })
  // Frames 8 and 90 are the marked ones.
  const stills = [
    still(truth.restAngleRad, 8),
    ...angles.map((angleRad, k) => still(angleRad, 40 + k)),
    still(truth.groundedAngleRad, 90),
  ]
  const pairs = [1, 2, 3, 4, 5, 6].map((seed) => {
    const clicked = clickedCalibration(seed)
    return { clicked, refined: refineFromStills(clicked, stills) }
  })
  const paw = truth.imageFromPlank({ alongM: 2.9, aboveM: 0, acrossM: 0.15 }, 0.1)
  const values = {
    swing: [(c: SeesawCamera) => c.groundedAngleRad - c.restAngleRad, truth.groundedAngleRad - truth.restAngleRad],
    'depth of the axis': [(c: SeesawCamera) => c.axisBelowTopM, truth.axisBelowTopM],
    'place of a paw': [(c: SeesawCamera) => c.plankFromImage(paw, 0.1, 0.15).alongM, 2.9],
  } as const

  test.each([
    ['swing', 0.9],
    ['depth of the axis', 0.4],
    ['place of a paw', 0.8],
  ] as const)('the error of the %s falls to less than %f of the clicks’', (name, share) => {
    const [value, exact] = values[name]
    const squares = (which: 'clicked' | 'refined'): number =>
      pairs.reduce((sum, pair) => sum + (value(pair[which].best) - exact) ** 2, 0)
    expect(Math.sqrt(squares('refined') / squares('clicked'))).toBeLessThan(share)
  })

  test.each(['swing', 'depth of the axis', 'place of a paw'] as const)('the intervals still hold the %s', (name) => {
    const [value, exact] = values[name]
    const held = pairs.filter(({ refined: { best, draws } }) => {
      const variance = draws.reduce((sum, draw) => sum + (value(draw) - value(best)) ** 2, 0) / draws.length
      return Math.abs(value(best) - exact) < 1.96 * Math.sqrt(variance)
    })
    expect(held.length).toBeGreaterThanOrEqual(5)
  })
})

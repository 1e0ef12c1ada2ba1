import { beforeAll, describe, expect, test } from 'vitest'
import { PinholeSeesaw, type SeesawPose } from '../../../analysis/calibration/pinhole-seesaw.ts'
import { applyHomography } from '../../../analysis/geometry/homography.ts'
import type { PlankM } from '../../../analysis/geometry/points.ts'
import { seededRandom } from '../../../analysis/numeric/random.ts'
import { cv, visionReady } from '../../report/vision-library.ts'
import { BOARD, frontalPose, simulatedSeesaw } from './simulated-seesaw.ts'

beforeAll(visionReady)

const oblique: SeesawPose = frontalPose({
  yawRad: -0.3,
  pitchRad: -0.12,
  rollRad: 0.04,
  rightM: 1.4,
  heightM: 1.3,
  distortion: 0.03,
})

/** The same camera step by step, in its own frame, by another road: rotate the plank, then the world, then divide. */
function stepByStep(pose: SeesawPose, exitSide: 1 | -1, point: PlankM, angleRad: number): [number, number, number] {
  const turn = (a: number, b: number, rad: number): [number, number] => [
    a * Math.cos(rad) - b * Math.sin(rad),
    a * Math.sin(rad) + b * Math.cos(rad),
  ]
  const [x, rise] = turn(point.alongM - BOARD.lengthM / 2, point.aboveM + pose.axisBelowTopM, -angleRad)
  const y = BOARD.pivotHeightM - pose.axisBelowTopM + rise
  const [right, up, away] = [exitSide * x - pose.rightM, y - pose.heightM, point.acrossM + pose.distanceM]
  const [sideways, ahead] = turn(right, away, pose.yawRad)
  const [depth, over] = turn(ahead, up, -pose.pitchRad)
  const [xCamera, yCamera] = turn(sideways, over, pose.rollRad)
  return [xCamera, -yCamera, depth]
}

describe('a camera straight beside the pivot, 1000 px focal length, 5 m away', () => {
  const camera = new PinholeSeesaw(frontalPose(), BOARD, 1)

  test('shows a level plank 200 px a metre wide, its middle in the picture’s middle', () => {
    expect(camera.imageFromPlank({ alongM: 1.83, aboveM: 0, acrossM: 0 }, 0)).toEqual({ xPx: 640, yPx: 360 })
    const exit = camera.imageFromPlank({ alongM: 3.66, aboveM: 0, acrossM: 0 }, 0)
    expect(exit.xPx).toBeCloseTo(640 + 366, 9)
    expect(exit.yPx).toBeCloseTo(360, 9)
  })

  test('shows the far edge smaller: 5 m against 5.3 m', () => {
    const exit = camera.imageFromPlank({ alongM: 3.66, aboveM: 0, acrossM: 0.3 }, 0)
    expect(exit.xPx - 640).toBeCloseTo(1830 / 5.3, 9)
  })

  test('turns the plank about an axis 45 mm below its top: upright, the exit end lies straight below the axis', () => {
    const exit = camera.imageFromPlank({ alongM: 3.66, aboveM: 0, acrossM: 0 }, Math.PI / 2)
    expect(exit.xPx).toBeCloseTo(640 + 200 * 0.045, 9)
    expect(exit.yPx).toBeCloseTo(360 + 200 * (0.045 + 1.83), 9)
  })

  test('sees the exit end on the ground 5.15 m back and 1.74 m aside when it lands', () => {
    const aside = 1.83 * Math.cos(camera.groundedAngleRad)
    expect(camera.distanceToLandingM).toBeCloseTo(Math.hypot(aside, 0.61, 5.15), 9)
  })
})

test.each([1, -1] as const)('a step-by-step projection agrees (exit side %i)', (exitSide) => {
  const pose = { ...oblique, distortion: 0 }
  const camera = new PinholeSeesaw(pose, BOARD, exitSide)
  for (const angleRad of [-0.32, 0.1]) {
    const point = { alongM: 2.9, aboveM: 0.2, acrossM: 0.17 }
    const [x, y, depth] = stepByStep(pose, exitSide, point, angleRad)
    const { xPx, yPx } = camera.imageFromPlank(point, angleRad)
    expect(xPx).toBeCloseTo(640 + (1000 * x) / depth, 8)
    expect(yPx).toBeCloseTo(360 + (1000 * y) / depth, 8)
  }
})

test('a general-purpose vision library puts points in the same place, lens distortion included', () => {
  // Outside reference: OpenCV's projectPoints with its radial term k1, through @techstark/opencv-js.
  const camera = new PinholeSeesaw(oblique, BOARD, 1)
  const points = [0, 0.9, 1.83, 3, 3.66].map((alongM) => ({ alongM, aboveM: 0.1, acrossM: 0.1 }))
  const inCamera = points.flatMap((point) => stepByStep(oblique, 1, point, 0.2))
  const still = cv.matFromArray(3, 1, cv.CV_64F, [0, 0, 0])
  const lens = cv.matFromArray(3, 3, cv.CV_64F, [1000, 0, 640, 0, 1000, 360, 0, 0, 1])
  const bend = cv.matFromArray(4, 1, cv.CV_64F, [oblique.distortion, 0, 0, 0])
  const image = new cv.Mat()
  cv.projectPoints(cv.matFromArray(points.length, 1, cv.CV_64FC3, inCamera), still, still, lens, bend, image)
  points.forEach((point, k) => {
    const { xPx, yPx } = camera.imageFromPlank(point, 0.2)
    expect(xPx).toBeCloseTo(image.data64F[2 * k]!, 6)
    expect(yPx).toBeCloseTo(image.data64F[2 * k + 1]!, 6)
  })
})

test('a plank point found from its image is the point itself, distortion or not', () => {
  const camera = new PinholeSeesaw(oblique, BOARD, -1)
  const point = { alongM: 0.4, aboveM: 0.3, acrossM: 0.22 }
  const found = camera.plankFromImage(camera.imageFromPlank(point, -0.2), -0.2, 0.22)
  expect(found.alongM).toBeCloseTo(0.4, 7)
  expect(found.aboveM).toBeCloseTo(0.3, 7)
})

test('the standing world and the plank agree where the level plank lies', () => {
  const camera = new PinholeSeesaw(oblique, BOARD, 1)
  const onPlank = camera.imageFromPlank({ alongM: 2.83, aboveM: 0, acrossM: 0.1 }, 0)
  const inWorld = camera.imageFromWorld({ xM: 1, yM: BOARD.pivotHeightM, acrossM: 0.1 })
  expect(onPlank.xPx).toBeCloseTo(inWorld.xPx, 9)
  expect(onPlank.yPx).toBeCloseTo(inWorld.yPx, 9)
})

test('homographies give the same px as single points when the lens does not bend', () => {
  const camera = new PinholeSeesaw({ ...oblique, distortion: 0 }, BOARD, -1)
  const { xPx, yPx } = camera.imageFromPlank({ alongM: 0.7, aboveM: 0.25, acrossM: 0.15 }, 0.13)
  const [u, v] = applyHomography(camera.homographyAt(0.13, 0.15), 0.7, 0.25)
  expect(u).toBeCloseTo(xPx, 9)
  expect(v).toBeCloseTo(yPx, 9)
  const world = camera.imageFromWorld({ xM: 0.3, yM: 0.4, acrossM: 0.15 })
  const [uWorld, vWorld] = applyHomography(camera.worldHomography(0.15), 0.3, 0.4)
  expect(uWorld).toBeCloseTo(world.xPx, 9)
  expect(vWorld).toBeCloseTo(world.yPx, 9)
})

test('under mild distortion homographies stay within a thousandth of the picture’s width of the points that the plank sweeps', () => {
  const random = seededRandom(21)
  for (let trial = 0; trial < 40; trial++) {
    const { truth, picture } = simulatedSeesaw(random)
    for (const angleRad of [truth.restAngleRad, 0, truth.groundedAngleRad]) {
      const map = truth.homographyAt(angleRad, 0)
      for (const alongM of [0, 0.9, 1.83, 2.7, 3.66]) {
        const { xPx, yPx } = truth.imageFromPlank({ alongM, aboveM: 0, acrossM: 0 }, angleRad)
        const [u, v] = applyHomography(map, alongM, 0)
        expect(Math.hypot(u - xPx, v - yPx)).toBeLessThan(picture.widthPx / 1000)
      }
    }
  }
})

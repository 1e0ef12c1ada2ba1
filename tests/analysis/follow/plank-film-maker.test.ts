import { expect, test } from 'vitest'
import { PinholeSeesaw } from '../../../analysis/calibration/pinhole-seesaw.ts'
import { expectedStrip, ExpectedStrips } from '../../../analysis/dog/expected-strip.ts'
import { cutStrip, UNKNOWN_CELL } from '../../../analysis/dog/strip.ts'
import { stripGrid } from '../../../analysis/dog/strip-grid.ts'
import { identityHomography } from '../../../analysis/geometry/homography.ts'
import { median } from '../../../analysis/numeric/robust.ts'
import { ExpectedPicture } from '../../../analysis/scene/expected-picture.ts'
import { learnScene } from '../../../analysis/scene/learn-scene.ts'
import { PlankFilmMaker } from '../../../analysis/follow/plank-film-maker.ts'
import { paintedPlank, type Screen } from '../calibration/painted-plank.ts'
import { BOARD, frontalPose } from '../calibration/simulated-seesaw.ts'

const camera = new PinholeSeesaw(
  { ...frontalPose({ heightM: 1.2, pitchRad: -0.1 }), focalPx: 500, principalXPx: 320, principalYPx: 180 },
  BOARD,
  1,
)
const picture = { widthPx: 640, heightPx: 360 }
const motion = { frameFromReference: identityHomography(), residualPx: 0, agreed: 20, looked: 20, gain: 1 }
const rest = camera.restAngleRad
const grounded = camera.groundedAngleRad

const paint = (angleRad: number, seed: number, screen?: Screen) =>
  paintedPlank(camera, BOARD.contactM, picture, angleRad, seed, screen)
const scene = learnScene(
  camera,
  paint(rest, 1),
  [rest, rest, rest, 0, grounded, grounded, grounded].map((angleRad, k) => ({ frame: paint(angleRad, k + 2), motion })),
  0.4,
)
const grid = stripGrid(BOARD.lengthM, scene.pxM, 0.3)
const expectedAt = (angleRad: number) =>
  expectedStrip(new ExpectedPicture(camera, scene.background, scene.appearance, angleRad, 0.75 * scene.pxM), grid)

/** Deviation of the strip of one frame, between two places along the plank, unknown cells left out. */
function deviation(angleRad: number, drawnAtRad: number, fromM: number, toM: number, screen?: Screen): number[] {
  const frame = paint(angleRad, 99, screen)
  const strip = cutStrip(frame, motion, camera, angleRad, expectedAt(drawnAtRad), 0, grid)
  return [...strip.deviation].filter((value, i) => {
    const alongM = grid.fromAlongM + (i % grid.columns) * grid.cellM
    return value !== UNKNOWN_CELL && alongM > fromM && alongM < toM
  })
}

test('the board is found in every still that the scene is learnt from', () => {
  const angles = scene.stills.map((still) => still.angleRad ?? NaN)
  for (const [k, angle] of [rest, rest, rest, 0, grounded, grounded, grounded].entries())
    expect(Math.abs(angles[k]! - angle)).toBeLessThan(0.002)
})

test('an empty seesaw is nowhere strange, whether at rest or grounded', () => {
  for (const angle of [rest, grounded]) expect(median(deviation(angle, angle, 0.1, 3.5))).toBeLessThan(10)
})

test('something before the plank is strange where it stands, and nowhere else', () => {
  const screen = { fromM: 1, toM: 1.4 }
  expect(median(deviation(rest, rest, 1.05, 1.35, screen))).toBeGreaterThan(60)
  expect(median(deviation(rest, rest, 1.6, 3.5, screen))).toBeLessThan(10)
})

test('an expected strip of an angle closer than is known serves as well', () => {
  const own = median(deviation(grounded, grounded, 0.1, 3.5))
  expect(Math.abs(median(deviation(grounded, grounded + 1.2e-4, 0.1, 3.5)) - own)).toBeLessThanOrEqual(1)
})

test('a trembling board is drawn once, a turning one anew', () => {
  const drawn: number[] = []
  const strips = new ExpectedStrips((angleRad) => {
    drawn.push(angleRad)
    return expectedAt(rest)
  }, 1e-3)
  for (const angle of [0.1, 0.1003, 0.0998, 0.1]) strips.near(angle)
  expect(drawn).toHaveLength(1)
  for (let step = 1; step <= 20; step++) strips.near(0.1 + 1e-3 * step)
  expect(drawn).toHaveLength(21)
  strips.near(0.12)
  expect(drawn).toHaveLength(21)
  strips.near(0.1)
  expect(drawn).toHaveLength(22)
})

test('a strip drawn over a spent one is as good as new', () => {
  const picture = new ExpectedPicture(camera, scene.background, scene.appearance, grounded, 0.75 * scene.pxM)
  const reused = expectedStrip(picture, grid, expectedAt(rest))
  expect(reused).toEqual(expectedAt(grounded))
})

/** The board turns steadily, in frames at given times; returns how far the followed angle is off in each, rad. */
function followedOff(timesS: readonly number[], angleAt: (atS: number) => number): number[] {
  const still = { follow: () => motion } as unknown as ConstructorParameters<typeof PlankFilmMaker>[2]
  const maker = new PlankFilmMaker(camera, scene, still, angleAt(timesS[0]!))
  return timesS.map((ptsS, k) => {
    const frame = { ...paint(angleAt(ptsS), 200 + k), index: k, ptsS }
    return Math.abs((maker.add(frame).sight?.angleRad ?? Infinity) - angleAt(ptsS))
  })
}

test('a falling board is followed through frames that come at uneven times', () => {
  const timesS = [0, 0.033, 0.066, 0.085, 0.1, 0.15, 0.165, 0.215, 0.25, 0.262, 0.33]
  const off = followedOff(timesS, (atS) => rest + 1.4 * atS)
  expect(Math.max(...off)).toBeLessThan(0.003)
})

test('a board that starts at once from rest is found again within the frame', () => {
  const timesS = [0, 0.033, 0.066, 0.1, 0.133, 0.166]
  const off = followedOff(timesS, (atS) => rest + (atS < 0.07 ? 0 : 2.5 * (atS - 0.07)))
  expect(Math.max(...off)).toBeLessThan(0.003)
})

test('on a shortened timeline everything is as if it had been filmed so', () => {
  const film = (stepS: number) => {
    const still = { follow: () => motion } as unknown as ConstructorParameters<typeof PlankFilmMaker>[2]
    const maker = new PlankFilmMaker(camera, scene, still, rest)
    for (let k = 0; k < 6; k++) maker.add({ ...paint(rest + 0.01 * k, 300 + k), index: k, ptsS: k * stepS })
    return maker
  }
  const slowed = film(0.125)
  slowed.shortenTime(1 / 8)
  const asFilmed = film(0.125 / 8)
  expect(slowed.boardTrack(0, 0)).toEqual(asFilmed.boardTrack(0, 0))
  expect(slowed.plankFilm()).toEqual(asFilmed.plankFilm())
})

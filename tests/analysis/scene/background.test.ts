import { expect, test } from 'vitest'
import { PinholeSeesaw } from '../../../analysis/calibration/pinhole-seesaw.ts'
import type { Frame } from '../../../analysis/clip/frame.ts'
import { seededRandom } from '../../../analysis/numeric/random.ts'
import { buildBackground, type Still } from '../../../analysis/scene/background.ts'
import { sweptRegion } from '../../../analysis/scene/learn-scene.ts'
import { BOARD, frontalPose } from '../calibration/simulated-seesaw.ts'

const camera = new PinholeSeesaw(frontalPose(), BOARD, 1)
const widthPx = 1280
const heightPx = 720
const scale = 0.5
const band = { fromAboveM: -0.2, toAboveM: 0.4 }
const region = sweptRegion(camera, band.toAboveM)
const PLANK_LUMA = 210

/** A smooth meadow: luma and chroma at a reference image point. */
const meadow = (xPx: number, yPx: number): readonly [number, number, number] => [
  100 + 30 * Math.sin(xPx / 60) * Math.cos(yPx / 45),
  120 + 8 * Math.sin(xPx / 90),
  125 + 8 * Math.cos(yPx / 80),
]

interface Sight {
  readonly angleRad: number
  /** How far the camera has moved the picture, px. */
  readonly shiftPx?: readonly [number, number]
  readonly gain?: number
  /** Somebody who hides the picture from one column of the reference to another, image px. */
  readonly passerBy?: readonly [number, number]
}

/** A picture of the meadow with a bright plank before it, as the moved camera sees it. */
function still({ angleRad, shiftPx = [0, 0], gain = 1, passerBy = [0, 0] }: Sight): Still {
  const view = { widthPx: widthPx * scale, heightPx: heightPx * scale, originXPx: 0, originYPx: 0, scale }
  const plane = (size: 1 | 2, channel: 0 | 1 | 2): Uint8Array => {
    const columns = view.widthPx / size
    return Uint8Array.from({ length: (columns * view.heightPx) / size }, (_, i) => {
      const xPx = (((i % columns) + 0.5) * size) / scale - shiftPx[0]
      const yPx = ((Math.floor(i / columns) + 0.5) * size) / scale - shiftPx[1]
      const { alongM, aboveM } = camera.plankFromImage({ xPx, yPx }, angleRad, 0)
      const isPlank = alongM > 0 && alongM < camera.lengthM && aboveM < 0 && aboveM > -camera.thicknessM
      const isHidden = xPx > passerBy[0] && xPx < passerBy[1]
      const level = isHidden ? 30 : isPlank ? PLANK_LUMA : meadow(xPx, yPx)[channel]
      return Math.round(channel === 0 ? gain * level : level)
    })
  }
  const frame: Frame = { index: 0, ptsS: 0, view, y: plane(1, 0), u: plane(2, 1), v: plane(2, 2) }
  return { frame, frameFromReference: Float64Array.of(1, 0, shiftPx[0], 0, 1, shiftPx[1], 0, 0, 1), angleRad, gain }
}

/** Largest error of Y, U and V over the band at rest. */
function worst(stills: readonly Still[]): [number, number, number] {
  const background = buildBackground(camera, stills, region, scale, band, 0.02)
  const errors: [number, number, number] = [0, 0, 0]
  const seen = new Float32Array(4)
  for (let alongM = 0.1; alongM < camera.lengthM; alongM += 0.13) {
    for (let aboveM = -0.15; aboveM < 0.35; aboveM += 0.017) {
      const p = camera.imageFromPlank({ alongM, aboveM, acrossM: 0 }, camera.restAngleRad)
      background.sample(p.xPx, p.yPx, seen, 0)
      // Round the pivot the plank hides the same place at every angle.
      if (Math.abs(alongM - camera.lengthM / 2) < 0.7) continue
      const truth = meadow(p.xPx, p.yPx)
      for (const c of [0, 1, 2] as const) errors[c] = Math.max(errors[c], Math.abs(seen[c]! - truth[c]))
    }
  }
  return errors
}

const rest = camera.restAngleRad
const grounded = camera.groundedAngleRad

test('what the plank hides at rest is seen once it has tipped', () => {
  const errors = worst([rest, rest, rest, 0, grounded, grounded].map((angleRad) => still({ angleRad })))
  for (const error of errors) expect(error).toBeLessThan(1)
})

test('a moving camera and a changing exposure leave no trace', () => {
  const random = seededRandom(5)
  const stills = [rest, rest, rest, 0, 0, grounded, grounded].map((angleRad) =>
    still({
      angleRad,
      shiftPx: [6 * random.normal(), 4 * random.normal()],
      gain: 1 + 0.05 * random.normal(),
    }),
  )
  for (const error of worst(stills)) expect(error).toBeLessThan(1.2)
})

test('a passer-by who covers a place in less than half of the stills is not part of the background', () => {
  const stills = [rest, rest, 0, 0, grounded, grounded, grounded].map((angleRad, k) =>
    still(k < 3 ? { angleRad, passerBy: [40 + 150 * k, 160 + 150 * k] } : { angleRad }),
  )
  for (const error of worst(stills)) expect(error).toBeLessThan(1)
})

test('what is never seen free takes its neighbour and is little trusted', () => {
  const background = buildBackground(
    camera,
    [rest, rest, rest, rest, rest, rest].map((angleRad) => still({ angleRad })),
    region,
    scale,
    band,
    0.02,
  )
  const seen = new Float32Array(4)
  const p = camera.imageFromPlank({ alongM: 0.8, aboveM: -0.02, acrossM: 0 }, rest)
  background.sample(p.xPx, p.yPx, seen, 0)
  expect(Math.abs(seen[0]! - meadow(p.xPx, p.yPx)[0])).toBeLessThan(8)
  expect(seen[3]).toBeGreaterThanOrEqual(12)
})

test('outside the band nothing is known', () => {
  const background = buildBackground(camera, [still({ angleRad: rest })], region, scale, band, 0.02)
  const seen = new Float32Array(4)
  background.sample(region.x0Px - 5, region.y0Px + 50, seen, 0)
  expect(Number.isNaN(seen[0]!)).toBe(true)
})

import { describe, expect, test } from 'vitest'
import { alongInFrame, frameDrawing, nearestFrame } from '../../../analysis/drawing/frame-drawing.ts'
import { samplePicture, sampleRide } from '../../main/outputs/report/sample-ride.ts'

const { footfalls } = sampleRide

describe('the drawing of a frame', () => {
  test('runs along the plank from end to end, with the zones at its ends', () => {
    const drawing = frameDrawing(samplePicture, 20, [])!
    const camera = samplePicture.calibration.best
    const at = (alongM: number) => camera.imageFromPlank({ alongM, aboveM: 0, acrossM: 0 }, samplePicture.angleRad[20]!)
    expect(drawing.upZoneEdge[0]).toEqual(at(0))
    expect(drawing.upZoneEdge.at(-1)).toEqual(at(0.9))
    expect(drawing.downZoneEdge.at(-1)).toEqual(at(3.66))
    expect(drawing.pivot[0]).toEqual(at(1.83))
  })

  test('has the paws that stand at that time, front and hind apart', () => {
    const limbs = (k: number) => frameDrawing(samplePicture, k, footfalls)!.paws.map((paw) => paw.limb)
    expect(limbs(9)).toEqual([])
    expect(limbs(13)).toEqual(['front', 'hind'])
    expect(limbs(45)).toEqual([])
  })

  test('follows the camera: a shifted frame shifts the drawing', () => {
    const shifted = samplePicture.cameraMotion.map(() => Float64Array.of(1, 0, 7, 0, 1, -3, 0, 0, 1))
    const still = frameDrawing(samplePicture, 20, [])!.pivot[0]
    const moved = frameDrawing({ ...samplePicture, cameraMotion: shifted }, 20, [])!.pivot[0]
    expect(moved.xPx - still.xPx).toBeCloseTo(7, 9)
    expect(moved.yPx - still.yPx).toBeCloseTo(-3, 9)
  })

  test('leads back to the plank: a paw that is drawn is found where it stands', () => {
    const shifted = samplePicture.cameraMotion.map(() => Float64Array.of(1, 0.02, 7, 0, 1.1, -3, 0, 1e-5, 1))
    const picture = { ...samplePicture, cameraMotion: shifted }
    const { paws } = frameDrawing(picture, 13, footfalls)!
    expect(paws.map(({ at }) => alongInFrame(picture, 13)!(at))).toEqual([
      expect.closeTo(footfalls[0]!.alongM, 9),
      expect.closeTo(footfalls[1]!.alongM, 9),
    ])
    expect(alongInFrame({ ...picture, angleRad: picture.angleRad.map(() => NaN) }, 13)).toBeNull()
  })

  test('is left out where plank or camera was not followed', () => {
    const angleRad = samplePicture.angleRad.map(() => NaN)
    expect(frameDrawing({ ...samplePicture, angleRad }, 20, footfalls)).toBeNull()
    const cameraMotion = samplePicture.cameraMotion.map(() => new Float64Array(9).fill(NaN))
    expect(frameDrawing({ ...samplePicture, cameraMotion }, 20, footfalls)).toBeNull()
  })
})

test('the nearest frame goes by time, not by count', () => {
  const uneven = Float64Array.of(0, 0.03, 0.2, 0.21)
  expect(nearestFrame(uneven, 0.1)).toBe(1)
  expect(nearestFrame(uneven, 0.12)).toBe(2)
  expect(nearestFrame(uneven, 9)).toBe(3)
})

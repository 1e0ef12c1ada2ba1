import { describe, expect, test } from 'vitest'
import { stillCrop } from '../../../../main/outputs/report/still-crop.ts'
import { samplePicture } from './sample-ride.ts'

describe('the part of a frame that a still shows', () => {
  test('is 16 by 9 and lies in the picture', () => {
    const clip = { widthPx: 320, heightPx: 180 }
    const { xPx, yPx, widthPx, heightPx } = stillCrop(samplePicture, 20, clip)
    expect(widthPx / heightPx).toBeCloseTo(16 / 9, 9)
    expect(Math.min(xPx, yPx)).toBeGreaterThanOrEqual(0)
    expect(xPx + widthPx).toBeLessThanOrEqual(320 + 1e-9)
    expect(yPx + heightPx).toBeLessThanOrEqual(180 + 1e-9)
  })

  test('holds both ends of the plank, at rest and landed, in a larger picture', () => {
    const crop = stillCrop(samplePicture, 20, { widthPx: 900, heightPx: 900 })
    const camera = samplePicture.calibration.best
    for (const angleRad of [camera.restAngleRad, camera.groundedAngleRad]) {
      for (const alongM of [0, 3.66]) {
        const { xPx, yPx } = camera.imageFromPlank({ alongM, aboveM: 0, acrossM: 0 }, angleRad)
        // The sample camera looks at (160, 90): what lies left of the picture cannot be shown.
        expect(xPx).toBeLessThan(crop.xPx + crop.widthPx)
        expect(yPx).toBeLessThan(crop.yPx + crop.heightPx)
        expect(Math.max(xPx, 0)).toBeGreaterThanOrEqual(crop.xPx)
        expect(Math.max(yPx, 0)).toBeGreaterThanOrEqual(crop.yPx)
      }
    }
  })

  test('does not need the camera to have been followed', () => {
    const cameraMotion = samplePicture.cameraMotion.map(() => new Float64Array(9).fill(NaN))
    const clip = { widthPx: 320, heightPx: 180 }
    expect(stillCrop({ ...samplePicture, cameraMotion }, 20, clip)).toEqual(stillCrop(samplePicture, 20, clip))
  })
})

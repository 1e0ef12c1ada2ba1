import { describe, expect, test } from 'vitest'
import { PinholeSeesaw } from '../../../analysis/calibration/pinhole-seesaw.ts'
import { measured, withheld } from '../../../analysis/estimate.ts'
import { applyHomography, identityHomography } from '../../../analysis/geometry/homography.ts'
import { difference, differenceRows } from '../../../analysis/review/differences.ts'
import { commonTimesS } from '../../../analysis/review/in-step.ts'
import { laidOver, type MarkedFrame, shownMatrix } from '../../../analysis/review/laid-over.ts'
import { sampleBoard, samplePicture, sampleMeasured } from '../../main/outputs/report/sample-ride.ts'

const still = samplePicture.calibration.best as PinholeSeesaw

function frame(
  change: Partial<PinholeSeesaw['pose']>,
  exitSide: 1 | -1 = 1,
  lengthM = sampleBoard.lengthM,
): MarkedFrame {
  const board = { ...sampleBoard, lengthM }
  const camera = new PinholeSeesaw({ ...still.pose, ...change }, board, exitSide)
  return { camera, lengthM, widthM: board.widthM, cameraMotion: identityHomography() }
}

/** Where a point of the dog's plane appears: from the level plank's pivot, m. */
function seen({ camera, lengthM, widthM }: MarkedFrame, alongM: number, aboveM: number): readonly [number, number] {
  const { xPx, yPx } = camera.imageFromPlank({ alongM: lengthM / 2 + alongM, aboveM, acrossM: widthM / 2 }, 0)
  return [xPx, yPx]
}

describe('two rides side by side', () => {
  test('what is uncertain of a difference adds in quadrature', () => {
    const both = difference(measured(2, 0.3), measured(3, 0.4))
    expect(both.value).toBe(1)
    expect(both.sd).toBeCloseTo(0.5, 12)
    expect(both.ci95[0]).toBeCloseTo(1 - 1.959964 * 0.5, 6)
    const lopsided = difference({ ...measured(2, 0.3), ci95: [1, 2.3] }, { ...measured(3, 0.4), ci95: [2.6, 3] })
    expect(lopsided.ci95[0]).toBeCloseTo(1 - Math.hypot(0.4, 0.3), 12)
    expect(lopsided.ci95[1]).toBeCloseTo(1 + Math.hypot(0, 1), 12)
  })

  test('a difference is clear only where its interval leaves 0 out, and none is told of what was not measured', () => {
    const ride = (holdS: number) => ({
      lengthM: 3.66,
      ride: {
        ...sampleMeasured.ride,
        measures: {
          ...sampleMeasured.ride.measures,
          holdBeforeGroundS: measured(holdS, 0.1),
          dropTimeS: withheld('not-seen', 'The landing is not on the clip.'),
        },
      },
    })
    const holds = (a: number, b: number) => differenceRows(ride(a), ride(b), 'metric')[0]!
    expect(holds(0.2, 0.6)).toMatchObject({ isClear: true, difference: '+0.40 s ± 0.28' })
    expect(holds(0.2, 0.4).isClear).toBe(false)
    expect(differenceRows(ride(1), ride(1), 'metric').some(({ name }) => name.startsWith('Fall'))).toBe(false)
  })

  test('rides of 30 and 240 frames a second are on one timeline, in true time', () => {
    const slow = Float64Array.from({ length: 31 }, (_, k) => k / 30)
    const fast = Float64Array.from({ length: 241 }, (_, k) => 5 + k / 240)
    const times = commonTimesS(slow, 0.5, fast, 5.25)
    expect(times[0]).toBeCloseTo(-0.5, 12)
    expect(times.at(-1)).toBeCloseTo(0.75, 12)
    expect(times.every((s, k) => k === 0 || s > times[k - 1]!)).toBe(true)
    // The pictures of both change at the tip itself.
    expect(times.some((s) => Math.abs(s) < 1e-9)).toBe(true)
  })

  test.each([
    [
      'another place of the camera',
      frame({ yawRad: 0.3, rightM: 0.8, distanceM: 5, heightM: 1.4, rollRad: 0.05 }),
      false,
    ],
    ['a dog that goes the other way', frame({}, -1), true],
    ['a longer board', frame({ distanceM: 4.5 }, 1, 3.8), false],
  ])('one lies over the other in the plane of the dog, with %s', (_, over, isMirrored) => {
    const under = frame({})
    const laid = laidOver(under, over)
    if (laid.kind !== 'fits') throw new Error(laid.why)
    expect(laid.isMirrored).toBe(isMirrored)
    // Points that the fit has not used.
    for (const [alongM, aboveM] of [
      [0.4, 0.3],
      [-1, 0.6],
      [1.7, 0.1],
    ] as const) {
      const [x, y] = applyHomography(laid.homography, ...seen(over, alongM, aboveM))
      const [wantedX, wantedY] = seen(under, alongM, aboveM)
      expect(Math.hypot(x - wantedX, y - wantedY)).toBeLessThan(1e-6)
    }
  })

  test('a camera that looks along the plank, or was not followed, is told rather than laid over', () => {
    expect(laidOver(frame({}), frame({ yawRad: 1 }))).toMatchObject({ kind: 'does-not' })
    const lost = { ...frame({}), cameraMotion: new Float64Array(9).fill(NaN) }
    expect(laidOver(lost, frame({}))).toMatchObject({ kind: 'does-not' })
  })

  test('the matrix for the screen does the same to shown pixels', () => {
    const homography = Float64Array.of(1.1, 0.1, 20, -0.05, 0.9, 8, 1e-4, -2e-4, 1)
    const matrix = shownMatrix(homography, 0.5)
    const [x, y] = [100, 60]
    const row = (k: number) => matrix[k]! * x + matrix[k + 4]! * y + matrix[k + 12]!
    const [wantedX, wantedY] = applyHomography(homography, x / 0.5, y / 0.5)
    expect(row(0) / row(3)).toBeCloseTo(wantedX * 0.5, 9)
    expect(row(1) / row(3)).toBeCloseTo(wantedY * 0.5, 9)
  })
})

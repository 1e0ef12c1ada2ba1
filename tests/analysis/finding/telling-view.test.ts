import { expect, test } from 'vitest'
import { PinholeSeesaw } from '../../../analysis/calibration/pinhole-seesaw.ts'
import { viewFault } from '../../../analysis/finding/telling-view.ts'
import { sampleBoard } from '../../main/outputs/report/sample-ride.ts'

/** A camera 5 m away, to one side by an angle, that looks at the pivot. */
function filmed(heightM: number, yawRad: number): PinholeSeesaw {
  const pitchRad = -Math.atan2(heightM - sampleBoard.pivotHeightM, 5)
  return new PinholeSeesaw(
    {
      focalPx: 600,
      principalXPx: 480,
      principalYPx: 270,
      distortion: 0,
      yawRad,
      pitchRad,
      rollRad: 0,
      rightM: -5 * Math.sin(yawRad),
      heightM,
      distanceM: 5 * Math.cos(yawRad),
      restAngleRad: -0.3,
      groundedAngleRad: 0.3,
      axisBelowTopM: 0.045,
      thicknessM: 0.04,
    },
    sampleBoard,
    1,
  )
}

// The plank lands 1.8 m beside the pivot: from 3 m high it is 6.2 m away, atan((3 - 0.61) / 6.2) = 21 deg;
// from 1.5 m it is 5.7 m, atan((1.5 - 0.61) / 5.7) = 9 deg.
test.each([
  [1.5, null],
  [0.4, null],
  [3, 'from-above'],
])('the fault of a camera %s m high, straight before the plank: %s', (heightM, fault) => {
  expect(viewFault(filmed(heightM, 0), heightM, sampleBoard.pivotHeightM)).toBe(fault)
})

// Halves of 1.83 m, 35 deg aside, at 5 m: their depths differ by 1.83 sin 35 = 1.05 m, (5 + 1.05) / (5 - 1.05) = 1.53.
test.each([-0.61, 0.61])('a view of %s rad from aside is too far aside', (yawRad) => {
  expect(viewFault(filmed(1.2, yawRad), 1.2, sampleBoard.pivotHeightM)).toBe('from-aside')
})

// 10 deg aside: (5 + 0.32) / (5 - 0.32) = 1.14.
test('a view of 10 degrees from aside is not', () => {
  expect(viewFault(filmed(1.2, 0.175), 1.2, sampleBoard.pivotHeightM)).toBeNull()
})

import { expect, test } from 'vitest'
import { elementAt } from '../../../renderer/viewer/element-at.ts'

test('the frame shown at a moment is the last one that has begun, whatever the spacing', () => {
  const uneven = [0, 0.02, 0.06, 0.07]
  expect([-1, 0, 0.019, 0.02, 0.059, 0.065, 9].map((atS) => elementAt(uneven, atS))).toEqual([0, 0, 0, 1, 1, 2, 3])
})

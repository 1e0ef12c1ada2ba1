import { describe, expect, test } from 'vitest'
import { framesFrom, snapped } from '../../../renderer/ride/nearest-frame.ts'
import { newPaw, settledPaw } from '../../../renderer/ride/set-paw.ts'

const ptsS = Float64Array.of(0, 0.1, 0.2, 0.3, 0.4, 0.5)
const paw = { alongM: 1, fromS: 0.15, toS: 0.35, limb: 'front' } as const

describe('moments are set to frames', () => {
  test('the nearest one', () => {
    expect(snapped(ptsS, 0.26)).toBe(0.3)
    expect(snapped(ptsS, 9)).toBe(0.5)
  })

  test('a step from between two frames leads to the next one on that side', () => {
    expect(framesFrom(ptsS, 0.25, 1)).toBe(0.3)
    expect(framesFrom(ptsS, 0.25, -1)).toBe(0.2)
    expect(framesFrom(ptsS, 0.3, 1)).toBe(0.4)
    expect(framesFrom(ptsS, 0.3, -2)).toBe(0.1)
  })

  test('a step stops at the ends of the film', () => {
    expect(framesFrom(ptsS, 0.5, 1)).toBe(0.5)
    expect(framesFrom(ptsS, 0.05, -3)).toBe(0)
  })
})

describe('a paw contact set by hand', () => {
  test('keeps the moments that were not touched, between frames as they were measured', () => {
    expect(settledPaw({ ...paw, alongM: 1.2 }, paw, ptsS, 3.6)).toEqual({ ...paw, alongM: 1.2 })
    expect(settledPaw({ ...paw, toS: 0.42 }, paw, ptsS, 3.6)).toEqual({ ...paw, toS: 0.4 })
  })

  test('stays on the plank', () => {
    expect(settledPaw({ ...paw, alongM: 9 }, paw, ptsS, 3.6).alongM).toBeCloseTo(3.65)
    expect(settledPaw({ ...paw, alongM: -9 }, paw, ptsS, 3.6).alongM).toBeCloseTo(-0.05)
  })

  test('lifts after it has landed: the end that is moved stops at the other', () => {
    expect(settledPaw({ ...paw, toS: 0 }, paw, ptsS, 3.6)).toEqual({ ...paw, toS: 0.2 })
    expect(settledPaw({ ...paw, fromS: 0.5 }, paw, ptsS, 3.6)).toEqual({ ...paw, fromS: 0.3 })
  })

  test('begins, when it is new, in the frame shown at the lead paw, or at the pivot where that is not known', () => {
    expect(newPaw(ptsS, 1, 2.2, 3.6)).toEqual({ alongM: 2.2, fromS: 0.1, toS: 0.3, limb: 'front' })
    expect(newPaw(ptsS, 5, null, 3.6)).toEqual({ alongM: 1.8, fromS: 0.4, toS: 0.5, limb: 'front' })
  })
})

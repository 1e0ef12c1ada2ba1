import { expect, test } from 'vitest'
import { landingAngleRad, lowerCornerHeightM } from '../../../analysis/calibration/landing-angle.ts'

const board = { lengthM: 3.66, pivotHeightM: 0.61 }
const degrees = 180 / Math.PI

test('a knife-thin plank on an axis in its top surface rests at asin(height / half length): 19.5 deg', () => {
  expect(landingAngleRad(board, 0, 0) * degrees).toBeCloseTo(Math.asin(0.61 / 1.83) * degrees, 9)
})

test('a 4 cm plank with its axis 4.5 cm below the top rests at about 18.1 deg', () => {
  // The same figure stands in the derived facts on rule-book boards: it lands on its lower edge.
  expect(landingAngleRad(board, 0.045, 0.04) * degrees).toBeCloseTo(18.14, 2)
})

test('the lower corner touches the ground at the landing angle, on either side', () => {
  for (const [axisM, thicknessM] of [
    [0, 0.035],
    [0.09, 0.03],
    [0.02, 0.06],
  ] as const) {
    const angleRad = landingAngleRad(board, axisM, thicknessM)
    expect(lowerCornerHeightM(board, axisM, thicknessM, angleRad)).toBeCloseTo(0, 12)
    expect(lowerCornerHeightM(board, axisM, thicknessM, -angleRad)).toBeCloseTo(0, 12)
  }
})

test('a level plank’s lower corner is the pivot height less the thickness up', () => {
  expect(lowerCornerHeightM(board, 0.045, 0.04, 0)).toBeCloseTo(0.57, 12)
})

import { expect, test } from 'vitest'
import { measured } from '../../../analysis/estimate.ts'
import { numberRows } from '../../../analysis/words/number-rows.ts'
import { wrenHold } from '../ride/wren-hold.ts'

/** The rows of a ride whose run up is known. */
function rowsOf(angleDeg: number, offsetM: number): readonly (readonly [string, string, string])[] {
  const ride = wrenHold.measured
  const measures = {
    ...ride.measures,
    entryAngleDeg: measured(angleDeg, 2),
    entryOffsetM: measured(offsetM, 0.02),
    strideM: measured(0.82, 0.03),
  }
  return numberRows({ ...ride, measures }, 3.66).map(({ name, value, margin }) => [name, value, margin])
}

test('angle and line of entry say which side where one is clear, and have no sign', () => {
  const near = rowsOf(12.3, 0.061)
  expect(near).toContainEqual(['Angle of entry, coming from the camera’s side', '12°', '± 4'])
  expect(near).toContainEqual(['Line of entry, beside the middle line on the camera’s side', '6 cm', '± 4'])
  expect(near).toContainEqual(['Stride on the climb', '0.82 m', '± 0.06'])
  const straight = rowsOf(-1.2, 0.011)
  expect(straight).toContainEqual(['Angle of entry, to no clear side', '1°', '± 4'])
  expect(straight).toContainEqual(['Line of entry, to no clear side', '1 cm', '± 4'])
  const far = rowsOf(-12.3, -0.061)
  expect(far).toContainEqual(['Angle of entry, coming from the far side', '12°', '± 4'])
  expect(far).toContainEqual(['Line of entry, beside the middle line on the far side', '6 cm', '± 4'])
})

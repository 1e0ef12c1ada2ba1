import { expect, test } from 'vitest'
import { type FrameSpan, ridesMeasuredAgain } from '../../../analysis/ride/rides-measured-again.ts'

const span = (fromFrame: number, toFrame: number): FrameSpan => ({ fromFrame, toFrame })

test.each([
  ['the whole clip: a ride that is not found again goes', [span(0, 99), span(200, 299)], [span(3, 95)], null, [0], [1]],
  ['a stretch: a ride outside it stays', [span(0, 99), span(200, 299)], [span(3, 95)], span(0, 150), [0], []],
  [
    'a stretch: a ride that reaches out of it stays',
    [span(0, 99), span(100, 250)],
    [span(3, 95)],
    span(0, 240),
    [0],
    [],
  ],
  [
    'a stretch: one all in it that is not found again goes',
    [span(0, 99), span(110, 150)],
    [span(3, 95)],
    span(0, 150),
    [0],
    [1],
  ],
  ['the old ride that shares most frames is taken over', [span(0, 60), span(40, 99)], [span(50, 99)], null, [1], [0]],
  ['two new rides take two places', [span(0, 99)], [span(0, 40), span(60, 99)], null, [0, null], []],
  [
    'a ride whose frames are not known is taken over last',
    [null, span(0, 99)],
    [span(0, 99), span(200, 250)],
    null,
    [1, 0],
    [],
  ],
  [
    'one whose frames are not known stays when a stretch is measured',
    [null, span(0, 99)],
    [span(0, 99)],
    span(0, 99),
    [1],
    [],
  ],
] as const)('%s', (_, before, now, stretch, takesPlaceOf, gone) => {
  expect(ridesMeasuredAgain(before, now, stretch)).toEqual({ takesPlaceOf, gone })
})

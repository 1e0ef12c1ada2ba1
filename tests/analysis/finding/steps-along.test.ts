import { expect, test } from 'vitest'
import { seeBorder, seeEnd } from '../../../analysis/finding/steps-along.ts'
import { type Colour, inventedStrip } from './invented-strip.ts'

const YELLOW: Colour = [170, -60, 30]
const BLUE: Colour = [70, 60, -30]
const FACE = { fromM: -0.03, toM: -0.01 }
const layer = { fromM: -0.04, toM: 0, colour: YELLOW }

// A px is 5 mm here: to a tenth of a px.
test.each([0.9, 0.9023, 0.877])('a zone border at %d m is found to 0.5 mm', (borderM) => {
  const strip = inventedStrip([layer], [0, 3.6], { colourAt: (alongM) => (alongM < borderM ? YELLOW : BLUE) })
  // Painted without blur: the column that it falls into is all of one colour.
  const found = seeBorder(strip, 0.9, 0.04, FACE)
  expect(Math.abs(found!.alongM - borderM)).toBeLessThan(0.0025 + 5e-4)
})

test('where the colour does not change there is no border', () => {
  expect(seeBorder(inventedStrip([layer], [0, 3.6]), 0.9, 0.04, FACE)).toBeNull()
})

test.each([
  [0.0131, 3.6],
  [-0.02, 3.588],
  [0.0004, 3.6227],
])('ends at %d m and %d m are found to 0.5 mm, in new shade too', (entryM, exitM) => {
  const strip = inventedStrip([layer], [entryM, exitM], { light: 0.7 })
  expect(Math.abs(seeEnd(strip, 0, 0.05, FACE, -1, 0)!.alongM - entryM)).toBeLessThan(5e-4)
  expect(Math.abs(seeEnd(strip, 3.6, 0.05, FACE, 1, 0)!.alongM - exitM)).toBeLessThan(5e-4)
})

test('an end beyond reach is not found elsewhere', () => {
  expect(seeEnd(inventedStrip([layer], [0, 3.4]), 3.6, 0.05, FACE, 1, 0)).toBeNull()
})

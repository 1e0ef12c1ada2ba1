import { expect, test } from 'vitest'
import { CHANNELS, COLUMNS, FROM_ALONG_M, pawPicture, PITCH_M, STEP_S } from '../../../analysis/dog/paw-picture.ts'
import type { Strip } from '../../../analysis/dog/strip.ts'
import { stripGrid } from '../../../analysis/dog/strip-grid.ts'

const LENGTH_M = 3.66
const grid = stripGrid(LENGTH_M, 0.01, 0.35)
const outline = { farTopM: [0.04, 0.04] as const, farShiftM: [0, 0] as const, bottomM: [-0.04, -0.04] as const }

/** A film in which a block stands on the plank, from 1.0 to 1.1 m along and up to `heightM`, in the frames that `here` names. */
function film(rateHz: number, frames: number, here: (frame: number) => boolean, heightM = 0.3) {
  const strips = Array.from({ length: frames }, (_, k): Strip => {
    const deviation = new Uint8Array(grid.columns * grid.rows)
    for (let row = 0; row < grid.rows; row++) {
      const above = grid.fromAboveM + row * grid.cellM
      for (let column = 0; column < grid.columns; column++) {
        const along = grid.fromAlongM + column * grid.cellM
        if (here(k) && along > 1 && along < 1.1 && above > 0.02 && above < heightM) {
          deviation[row * grid.columns + column] = 60
        }
      }
    }
    return { ptsS: k / rateHz, angleRad: 0, deviation }
  })
  return {
    ptsS: Float64Array.from({ length: frames }, (_, k) => k / rateHz),
    grid,
    strips,
    outlines: strips.map(() => outline),
    lengthM: LENGTH_M,
  }
}

const at = (values: Uint8Array, step: number, alongM: number, channel: number) =>
  values[(step * COLUMNS + Math.floor((alongM - FROM_ALONG_M) / PITCH_M)) * CHANNELS + channel]!

test('what is 6 sd strange reads 6 / (6 + 3) of the full scale, in its bands and nowhere else', () => {
  const { values } = pawPicture(film(60, 30, () => true))
  expect(at(values, 10, 1.05, 7)).toBe(170)
  expect(at(values, 10, 1.05, 0)).toBe(0)
  expect(at(values, 10, 2, 7)).toBe(0)
})

test('steps are a sixtieth of a second apart whatever the rate of the clip', () => {
  for (const rateHz of [24, 30, 60, 120, 240]) {
    const { steps } = pawPicture(film(rateHz, rateHz + 1, () => false))
    expect(steps).toBe(Math.round(1 / STEP_S) + 1)
  }
})

test('something that comes half-way through a second comes half-way through its steps, at any rate', () => {
  for (const rateHz of [30, 60, 240]) {
    const { values, steps } = pawPicture(film(rateHz, rateHz + 1, (k) => k >= rateHz / 2))
    const seen = Array.from({ length: steps }, (_, step) => at(values, step, 1.05, 7) > 85)
    expect(Math.abs(seen.indexOf(true) * STEP_S - 0.5)).toBeLessThan(0.5 / rateHz + STEP_S)
  }
})

test('a frame in which the plank was not followed is unknown, not empty', () => {
  const whole = film(60, 5, () => true)
  const { values } = pawPicture({ ...whole, strips: whole.strips.map(() => null) })
  expect(at(values, 2, 1.05, 12)).toBe(255)
  expect(at(values, 2, 1.05, 7)).toBe(0)
})

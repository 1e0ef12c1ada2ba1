import { describe, expect, test } from 'vitest'
import type { PlankFilm } from '../../../analysis/dog/plank-film.ts'
import type { Strip } from '../../../analysis/dog/strip.ts'
import { stripGrid } from '../../../analysis/dog/strip-grid.ts'
import { findWeight } from '../../../analysis/drop/weight.ts'
import type { Estimate } from '../../../analysis/estimate.ts'
import { seededRandom } from '../../../analysis/numeric/random.ts'

const LENGTH_M = 3.6
const MASS_AT_M = 3.15
const RATE_HZ = 30
const PLACED_S = 1.01
const RELEASED_S = 1.52
const FRAME_S = 1 / RATE_HZ

describe('a weight that a hand sets down and lets go', () => {
  const { placed, released } = findWeight(film(weightAboveM, handAwayM), MASS_AT_M, 1.8)

  test('rests on the board when it stops coming down, the hand still there', () => {
    expect(Math.abs(valueOf(placed) - PLACED_S)).toBeLessThan(FRAME_S)
    expect(isInside(placed, PLACED_S)).toBe(true)
  })

  test('is free when the hand starts to draw back', () => {
    expect(Math.abs(valueOf(released) - RELEASED_S)).toBeLessThan(FRAME_S)
    expect(isInside(released, RELEASED_S)).toBe(true)
  })

  test('rests when it came though the codec draws the still picture anew later', () => {
    const redrawn = film(weightAboveM, handAwayM, 1.2)
    expect(Math.abs(valueOf(findWeight(redrawn, MASS_AT_M, 1.8).placed) - PLACED_S)).toBeLessThan(FRAME_S)
  })

  test('has neither time when the board tipped before', () => {
    expect(findWeight(film(weightAboveM, handAwayM), MASS_AT_M, 0.6).placed).toMatchObject({ reason: 'not-seen' })
  })
})

test('a weight that stands there all the time was not seen being set down', () => {
  expect(
    findWeight(
      film(
        () => 0,
        () => 0,
      ),
      MASS_AT_M,
      null,
    ),
  ).toMatchObject({
    placed: { kind: 'withheld', reason: 'not-seen' },
    released: { kind: 'withheld', reason: 'not-seen' },
  })
})

describe('a weight that a thin pole sets down, of which the codec shows no motion before it is large', () => {
  const rateHz = 60
  const { released } = findWeight(poleFilm(rateHz), MASS_AT_M, 1.8)

  test('is free before the pole is seen to leave: within two frames, and inside the interval', () => {
    expect(Math.abs(valueOf(released) - RELEASED_S)).toBeLessThan(2 / rateHz)
    expect(isInside(released, RELEASED_S)).toBe(true)
  })
})

function weightAboveM(timeS: number): number {
  return 0.3 * Math.max(PLACED_S - timeS, 0)
}

function handAwayM(timeS: number): number {
  return 1.5 * Math.max(timeS - RELEASED_S, 0) ** 2
}

/** A textured weight and hand before a plain background, sampled in cells of 5 mm; coarser until `fineS`. */
function film(aboveM: (timeS: number) => number, awayM: (timeS: number) => number, fineS = 0): PlankFilm {
  const grid = stripGrid(LENGTH_M, 0.005, 0.35)
  const random = seededRandom(4)
  const ptsS = Float64Array.from({ length: 75 }, (_, n) => n / RATE_HZ)
  const strips = Array.from(ptsS, (timeS): Strip => {
    const weightM = aboveM(timeS)
    const handM = weightM + awayM(timeS)
    const deviation = Uint8Array.from({ length: grid.columns * grid.rows }, (_, i) => {
      const alongM = grid.fromAlongM + (i % grid.columns) * grid.cellM - MASS_AT_M
      const heightM = grid.fromAboveM + Math.floor(i / grid.columns) * grid.cellM
      const noise = 4 * random.uniform() + (timeS < fineS ? 12 * ((i * 7919) % 5) : 0)
      if (Math.abs(alongM) < 0.05 && heightM > weightM && heightM < weightM + 0.1)
        return pattern(heightM - weightM) + noise
      if (Math.abs(alongM) < 0.04 && heightM > handM + 0.1) return pattern(heightM - handM) + noise
      return 5 + noise
    })
    return { ptsS: timeS, angleRad: -0.3, deviation }
  })
  return { ptsS, grid, strips, outlines: strips.map(() => null), lengthM: LENGTH_M }
}

/**
 * A weight with a pole of 2.4 cm that points 21 deg up along the plank and draws back 35 deg up: 5.3 m/s² times the time
 * squared at first, so that only a quarter of its way goes across itself; its first 15 mm are not coded.
 */
function poleFilm(rateHz: number): PlankFilm {
  const grid = stripGrid(LENGTH_M, 0.0065, 0.35)
  const random = seededRandom(5)
  const ptsS = Float64Array.from({ length: 2.5 * rateHz }, (_, n) => n / rateHz)
  const [along, up] = [Math.cos(0.37), Math.sin(0.37)]
  const strips = Array.from(ptsS, (timeS): Strip => {
    const comingM = weightAboveM(timeS)
    const trulyGoneM = 5.3 * Math.max(timeS - RELEASED_S, 0) ** 2
    const goneM = trulyGoneM > 0.015 ? trulyGoneM : 0
    const [tipAlongM, tipAboveM] = [0.82 * goneM, comingM + 0.13 + 0.57 * goneM]
    const deviation = Uint8Array.from({ length: grid.columns * grid.rows }, (_, i) => {
      const alongM = grid.fromAlongM + (i % grid.columns) * grid.cellM - MASS_AT_M
      const heightM = grid.fromAboveM + Math.floor(i / grid.columns) * grid.cellM
      const noise = 2 * random.uniform()
      if (Math.abs(alongM) < 0.055 && heightM > comingM && heightM < comingM + 0.11)
        return pattern(heightM - comingM) + noise
      const [fromTipM, fromAxisM] = [
        (alongM - tipAlongM) * along + (heightM - tipAboveM) * up,
        (heightM - tipAboveM) * along - (alongM - tipAlongM) * up,
      ]
      return (fromTipM > 0 && Math.abs(fromAxisM) < 0.012 ? 150 : 5) + noise
    })
    return { ptsS: timeS, angleRad: -0.3, deviation }
  })
  return { ptsS, grid, strips, outlines: strips.map(() => null), lengthM: LENGTH_M }
}

/** Light and dark bands 4 cm apart, in tenths of an sd. */
function pattern(heightM: number): number {
  return 100 + 60 * Math.sin((2 * Math.PI * heightM) / 0.04)
}

function valueOf(estimate: Estimate): number {
  if (estimate.kind !== 'measured') throw new Error(`not measured: ${JSON.stringify(estimate)}`)
  return estimate.value
}

function isInside(estimate: Estimate, truthS: number): boolean {
  return estimate.kind === 'measured' && estimate.ci95[0] <= truthS && truthS <= estimate.ci95[1]
}

import { describe, expect, test } from 'vitest'
import { baseShift } from '../../../analysis/follow/base-shift.ts'
import type { RestGrid, RestLook } from '../../../analysis/follow/rest-look.ts'
import { seededRandom } from '../../../analysis/numeric/random.ts'

const grid: RestGrid = {
  stepM: 0.006,
  fromAlongM: -0.024,
  fromAboveM: -0.07,
  columns: 619,
  rows: 20,
  topM: [0.02, 0.02],
  bottomM: [-0.04, -0.04],
  lengthM: 3.66,
}
const rests = { beforeS: [0, 1], afterS: [5, 6] } as const

/** How much of a step has passed `x` px beyond an edge: a picture is never sharper than this. */
const blurred = (x: number) => 1 / (1 + Math.exp(-2.5 * x))

/**
 * A plank of two colours over a striped ground, computed from its formula at each point, so that a shift of any size is
 * exact. The ground stays where it is.
 *
 * @param alongM how far the plank has gone along itself; @param aboveM across itself
 * @param covered from here on along it is hidden by something grey, m
 */
function look(ptsS: number, alongM: number, aboveM: number, seed: number, covered = Infinity): RestLook {
  const random = seededRandom(seed)
  const { stepM, columns, rows, fromAlongM, fromAboveM, lengthM } = grid
  const yuv = new Uint8Array(3 * columns * rows)
  for (let row = 0, at = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++, at += 3) {
      const [s, n] = [fromAlongM + column * stepM, fromAboveM + row * stepM]
      const [p, q] = [(s - alongM) / stepM, (n - aboveM) / stepM]
      const inside = blurred(p) * blurred(lengthM / stepM - p) * blurred(q + 0.04 / stepM) * blurred(0.02 / stepM - q)
      const zone = 1 - blurred(p - 0.9 / stepM) * blurred((lengthM - 0.9) / stepM - p)
      const ground = 90 + 12 * Math.sin(40 * s + 60 * n)
      const plank = 120 + 60 * zone
      const hidden = s > covered
      const colours = hidden ? [60, 128, 128] : [ground + inside * (plank - ground), 128 - 40 * inside * zone, 128]
      for (let k = 0; k < 3; k++) yuv[at + k] = Math.round(colours[k]! + 1.5 * random.normal())
    }
  }
  return { ptsS, angleRad: -0.3, yuv }
}

/** Looks before and after a base of a plank at -0.3 rad was pushed along the ground by `byM` and sank by `downM`. */
function looks(byM: number, downM = 0, covered = Infinity): RestLook[] {
  // The plank's direction is (cos, -sin) of its angle, its normal (sin, cos).
  const alongM = byM * Math.cos(-0.3) + downM * Math.sin(-0.3)
  const aboveM = byM * Math.sin(-0.3) - downM * Math.cos(-0.3)
  return [
    ...[0.1, 0.3, 0.5, 0.7].map((t, k) => look(t, 0, 0, k + 1)),
    ...[5.1, 5.3, 5.5, 5.7].map((t, k) => look(t, alongM, aboveM, k + 11, covered)),
  ]
}

describe('how far a base has been pushed along the ground', () => {
  test.each([0, 0.004, -0.015, 0.04, -0.06])('%f m are told to a millimetre', (byM) => {
    const shift = baseShift({ looks: looks(byM), grid }, rests)
    if (shift.kind !== 'measured') throw new Error(shift.kind)
    expect(Math.abs(shift.value - Math.abs(byM))).toBeLessThan(0.001)
    expect(shift.ci95[0]).toBeLessThanOrEqual(Math.abs(byM))
    expect(shift.ci95[1]).toBeGreaterThanOrEqual(Math.abs(byM))
    expect(shift.ci95[0]).toBeGreaterThanOrEqual(0)
  })

  test('feet that sink into the ground are no shift', () => {
    const shift = baseShift({ looks: looks(0, 0.006), grid }, rests)
    expect(shift.kind === 'measured' ? shift.value : NaN).toBeLessThan(0.001)
  })

  test('somebody who hides half of the plank does not move it', () => {
    const shift = baseShift({ looks: looks(0.01, 0, 1.9), grid }, rests)
    expect(shift.kind === 'measured' ? Math.abs(shift.value - 0.01) : NaN).toBeLessThan(0.0015)
  })

  test('is withheld where the board does not come back, or is hidden', () => {
    const before = looks(0).slice(0, 4)
    expect(baseShift({ looks: before, grid }, null)).toMatchObject({ kind: 'withheld', reason: 'clip-ends' })
    expect(baseShift({ looks: before, grid }, rests)).toMatchObject({ kind: 'withheld', reason: 'clip-ends' })
    expect(baseShift({ looks: looks(0, 0, -1), grid }, rests)).toMatchObject({ kind: 'withheld', reason: 'hidden' })
  })
})

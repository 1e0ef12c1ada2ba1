import { describe, expect, test } from 'vitest'
import { type ApproachParts, measureApproach } from '../../../analysis/approach/approach.ts'
import { bodyPath } from '../../../analysis/approach/body-path.ts'
import { groundPaws } from '../../../analysis/approach/ground-paws.ts'
import { camera, type Foot, grids, likeness, look } from './invented-approach.ts'

const RATE_HZ = 50
const MPS = 3
/** The body's centre passes the entry end, level, at this time. */
const AT_END_S = 1.6
const bodyAt = (timeS: number) => MPS * (timeS - AT_END_S)

/** Paws that stand for 0.16 s each, left and right of a line that comes `slope` m a metre from the camera's side. */
function feetAt(timeS: number, slope: number): Foot[] {
  return [-1.5, -1.25, -1, -0.75, -0.5, -0.25].flatMap((aheadM, k) => {
    const downS = AT_END_S + aheadM / MPS - 0.1
    if (timeS < downS || timeS > downS + 0.16) return []
    // The sole's middle lies 2.5 cm behind its near border.
    return [{ aheadM, asideM: -slope * aheadM + (k % 2 === 0 ? 0.05 : -0.05) + 0.025, wideM: 0.06 }]
  })
}

function partsOf(slope: number, changes: Partial<ApproachParts> = {}): ApproachParts {
  return {
    looks: Array.from({ length: 90 }, (_, k) => k / RATE_HZ).map((t) => look(t, bodyAt(t), feetAt(t, slope))),
    grids,
    likeness,
    dog: { firstOn: { kind: 'seen', atS: AT_END_S - 0.15, sdS: 0.01, alongM: 0.1, alongSdM: 0.02 } },
    camera,
    draws: [camera],
    scale: 1,
    ...changes,
  }
}

test('the body is followed to a few centimetres', () => {
  const { looks } = partsOf(0)
  const path = bodyPath(looks.slice(54, 80), grids.upright, likeness)!
  path.ptsS.forEach((t, k) => expect(Math.abs(path.aheadM[k]! - bodyAt(t))).toBeLessThan(0.03))
})

describe('paws on the ground', () => {
  test('are found where and when they stand', () => {
    const paws = groundPaws(partsOf(0.2).looks, grids.ground)
    expect(paws).toHaveLength(6)
    paws.forEach((paw, k) => {
      const aheadM = -1.5 + 0.25 * k
      expect(Math.abs(paw.aheadM - aheadM)).toBeLessThan(0.02)
      expect(Math.abs(paw.asideM - (-0.2 * aheadM + (k % 2 === 0 ? 0.05 : -0.05)))).toBeLessThan(0.02)
      expect(Math.abs(paw.fromS - (AT_END_S + aheadM / MPS - 0.1))).toBeLessThan(0.03)
    })
  })

  test('what moves on at every look, as a swinging leg or a shadow does, is none', () => {
    const moving = Array.from({ length: 40 }, (_, k) =>
      look(k / RATE_HZ, null, [{ aheadM: -1.6 + 0.04 * k, asideM: 0.1, wideM: 0.06 }]),
    )
    expect(groundPaws(moving, grids.ground)).toEqual([])
  })
})

describe('the run up', () => {
  test('is measured: speed along the plank’s line, angle and line of entry', () => {
    const { entrySpeedMps, entryAngleDeg, entryOffsetM } = measureApproach(partsOf(0.2))
    if (entrySpeedMps.kind !== 'measured' || entryAngleDeg.kind !== 'measured' || entryOffsetM.kind !== 'measured')
      throw new Error(JSON.stringify({ entrySpeedMps, entryAngleDeg, entryOffsetM }))
    // atan(0.2) is 11.3 deg, from the camera's side.
    expect(Math.abs(entryAngleDeg.value - 11.3)).toBeLessThan(4)
    expect(entryAngleDeg.ci95[0]).toBeLessThan(11.3)
    expect(entryAngleDeg.ci95[1]).toBeGreaterThan(11.3)
    expect(Math.abs(entryOffsetM.value)).toBeLessThan(0.05)
    // The invented body stays in the upright plane, so it is compared with a straight run up below.
    expect(entrySpeedMps.sd / entrySpeedMps.value).toBeLessThan(0.1)
  })

  test('of a dog that comes straight has the speed with which it was drawn', () => {
    const { entrySpeedMps } = measureApproach(partsOf(0))
    if (entrySpeedMps.kind !== 'measured') throw new Error(entrySpeedMps.kind)
    expect(entrySpeedMps.value).toBeCloseTo(MPS * Math.cos(camera.restAngleRad), 1)
  })

  test('is withheld with the reason where the body comes into the picture too late', () => {
    const { looks } = partsOf(0)
    const late = looks.map((one, k) => (k / RATE_HZ < 1.35 ? look(one.ptsS, null) : one))
    const { entrySpeedMps, entryAngleDeg } = measureApproach(partsOf(0, { looks: late }))
    expect(entrySpeedMps).toMatchObject({ kind: 'withheld', reason: 'out-of-picture' })
    expect(entryAngleDeg.kind).toBe('withheld')
  })

  test('is withheld as a whole where the first paw was not seen to get on', () => {
    const firstOn = { kind: 'not-seen', reason: 'clip-ends', detail: 'Start filming earlier.' } as const
    const measures = measureApproach(partsOf(0, { dog: { firstOn } }))
    for (const one of Object.values(measures)) expect(one).toMatchObject({ kind: 'withheld', reason: 'clip-ends' })
  })

  test('has no line where the camera looks along the ground', () => {
    const flat = measureApproach(partsOf(0, { scale: 0.2 }))
    expect(flat.entryAngleDeg).toMatchObject({ kind: 'withheld', reason: 'not-clear' })
    expect(flat.entrySpeedMps.kind).toBe('measured')
  })
})

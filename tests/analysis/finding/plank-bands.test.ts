import { describe, expect, test } from 'vitest'
import { bandsIn, type PlankBands } from '../../../analysis/finding/plank-bands.ts'
import { stretches } from '../../../analysis/finding/sight-plank.ts'
import { type Colour, inventedStrip, type Layer } from './invented-strip.ts'

// Strips drawn with known edges: the figures expected are those they were drawn with.
const TOP: Colour = [190, -20, 30]
const NEAR: Colour = [140, -15, 22]
const UNDER: Colour = [45, -4, 6]
const THICK_M = 0.038

/** The plank with so much of its top seen, or with a minus of its underside; its near edge so far above the strip's middle. */
function seen(topM: number, nearM = 0, top = TOP): Layer[] {
  const low = nearM - THICK_M
  return [
    { fromM: low, toM: nearM, colour: NEAR },
    ...(topM > 0 ? [{ fromM: nearM, toM: nearM + topM, colour: top }] : []),
    ...(topM < 0 ? [{ fromM: low + topM, toM: low, colour: UNDER }] : []),
  ]
}

function read(rest: readonly Layer[], grounded: readonly Layer[], turnM: number): PlankBands | null {
  const of = (layers: readonly Layer[]) => ({
    strip: inventedStrip(layers, [0, 3.6]),
    stretches: stretches(3.6, 0.9).filter(([fromM, toM]) => Math.abs((fromM + toM) / 2 - 1.8) > 0.25),
  })
  return bandsIn({ rest: of(rest), grounded: of(grounded) }, [turnM, 0.01])
}

describe('which band along the plank is its near face', () => {
  test.each([
    ['from above, the top in both places', 0.05, 0.03, 0],
    ['from a low camera, the underside in both places', -0.018, -0.024, 0],
    ['from one side, the top at rest and the underside landed', 0.036, -0.02, 0],
    ['with the camera fitted along the lower edge of the near face', -0.018, -0.02, THICK_M],
    ['with the camera fitted along the far edge of the top', 0.04, 0.04, -0.04],
  ])('%s', (_, restM, groundedM, nearM) => {
    const bands = read(seen(restM, nearM), seen(groundedM, nearM), restM - groundedM)
    expect(bands?.lead).toBeGreaterThan(7)
    expect(Math.abs(bands!.nearAboveM.rest - nearM)).toBeLessThan(0.007)
    expect(Math.abs(bands!.nearAboveM.grounded - nearM)).toBeLessThan(0.007)
    expect(Math.abs(bands!.thicknessM - THICK_M)).toBeLessThan(0.007)
    expect(Math.sign(bands!.topM.rest)).toBe(Math.sign(restM))
    expect(Math.sign(bands!.topM.grounded)).toBe(Math.sign(groundedM))
  })

  test('one band of one colour may be split in many ways: no reading leads', () => {
    const bands = read(seen(0.045, 0, NEAR), seen(0.045, 0, NEAR), 0)
    expect(bands?.lead ?? 0).toBeLessThan(7)
  })

  test('where nothing differs from what was behind there is no reading that leads', () => {
    expect(read([], [], 0)?.lead ?? 0).toBeLessThan(7)
  })
})

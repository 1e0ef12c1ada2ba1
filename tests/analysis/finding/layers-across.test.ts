import { expect, test } from 'vitest'
import { type ExpectedLayers, seeLayers } from '../../../analysis/finding/layers-across.ts'
import { type Colour, inventedStrip, type Layer } from './invented-strip.ts'

const SUNNY: Colour = [170, -60, 30]
const SHADED: Colour = [140, -52, 26]
const DARK: Colour = [40, 0, 0]

/** Top face of 25 mm as seen, near face of 40 mm, the near top edge a little off where it is expected. */
const layers = (offM: number): Layer[] => [
  { fromM: offM - 0.04, toM: offM, colour: SHADED },
  { fromM: offM, toM: offM + 0.025, colour: SUNNY },
]

const expected: ExpectedLayers = {
  reachM: 0.03,
  topM: [0.02, 0.01],
  thicknessM: [0.04, 0.012],
  underM: [0, 0.002],
}

// A px is 5 mm here: all to a twentieth of a px.
test.each([0, 0.004, -0.013, 0.0217])('long edges %d m off are found to 0.25 mm, with top face', (offM) => {
  const seen = seeLayers(inventedStrip(layers(offM), [0, 3.6]), [0.4, 0.8], expected)
  expect(Math.abs(seen!.nearTop!.aboveM - offM)).toBeLessThan(2.5e-4)
  expect(Math.abs(seen!.farTop!.aboveM - offM - 0.025)).toBeLessThan(2.5e-4)
  expect(Math.abs(seen!.nearLow!.aboveM - offM + 0.04)).toBeLessThan(2.5e-4)
})

test('the grass beside it may have come into the shade since', () => {
  const seen = seeLayers(inventedStrip(layers(0.006), [0, 3.6], { light: 0.8 }), [0.4, 0.8], expected)
  expect(Math.abs(seen!.nearTop!.aboveM - 0.006)).toBeLessThan(5e-4)
})

test('seen from below there is an underside and no top face', () => {
  const strip = inventedStrip(
    [
      { fromM: -0.06, toM: -0.038, colour: DARK },
      { fromM: -0.038, toM: 0.002, colour: SUNNY },
    ],
    [0, 3.6],
  )
  const seen = seeLayers(strip, [0.4, 0.8], { ...expected, topM: [-0.01, 0.008], underM: [0.015, 0.01] })
  expect(seen!.farTop).toBeNull()
  expect(Math.abs(seen!.nearTop!.aboveM - 0.002)).toBeLessThan(2.5e-4)
  expect(Math.abs(seen!.nearLow!.aboveM + 0.038)).toBeLessThan(2.5e-4)
})

test('an edge between two faces of nearly the same colour is known less well, or not handed on', () => {
  const alike: Layer[] = [
    { fromM: -0.04, toM: 0, colour: SUNNY },
    { fromM: 0, toM: 0.025, colour: [172, -60, 30] },
  ]
  const clear = seeLayers(inventedStrip(layers(0), [0, 3.6]), [0.4, 0.8], expected)
  const faint = seeLayers(inventedStrip(alike, [0, 3.6]), [0.4, 0.8], expected)
  expect(faint?.nearTop?.sdM ?? Infinity).toBeGreaterThan(3 * clear!.nearTop!.sdM)
})

test('nothing is said of a stretch in which something stands on the plank', () => {
  const strip = inventedStrip([...layers(0), { fromM: 0.025, toM: 0.2, colour: [30, 0, 0] }], [0, 3.6])
  expect(seeLayers(strip, [0.4, 0.8], expected)).toBeNull()
})

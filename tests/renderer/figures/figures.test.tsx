import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { renderToStaticMarkup } from 'react-dom/server'
import { expect, test } from 'vitest'
import { RideChart } from '../../../renderer/figures/ride-chart.tsx'
import { TipDrawing } from '../../../renderer/figures/tip-drawing.tsx'
import { VerdictShape } from '../../../renderer/figures/verdict-shape.tsx'
import { sampleMeasured, sampleRide } from '../../main/outputs/report/sample-ride.ts'

test('shapes differ between sure, against and open, so that colour is not needed', () => {
  const shapes = (['sure', 'against', 'open'] as const).map((shape) =>
    renderToStaticMarkup(<VerdictShape shape={shape} />),
  )
  expect(new Set(shapes).size).toBe(3)
  expect(shapes[1]).toContain('M5.5,10 H14.5')
  expect(shapes[2]).not.toContain('H14.5')
})

test('the curve of the exit end goes down as the exit end does, and the words beside it say so', () => {
  const svg = renderToStaticMarkup(<RideChart ride={sampleRide} board={sampleMeasured.picture.board} sound={null} />)
  const labelY = (words: RegExp) =>
    Number([...svg.matchAll(/<text[^>]* y="([\d.]+)"[^>]*>([^<]*)</g)].find(([, , text]) => words.test(text!))?.[1])
  expect(labelY(/° up$/)).toBeLessThan(labelY(/° down$/))
  const curve = /class="chart-tilt"[^>]* d="M([^"]+)"/
    .exec(svg)![1]!
    .split('L')
    .map((point) => Number(point.split(',')[1]))
  expect(curve.at(-1)).toBeGreaterThan(curve[0]!)
})

test('the tip drawing has its exit end up while the entry end is down', () => {
  const { board, calibration } = sampleMeasured.picture
  const { leadPawAtTipM, bodyAtTipM } = sampleRide.measures
  const svg = renderToStaticMarkup(
    <TipDrawing board={board} pose={calibration.best} leadPawM={leadPawAtTipM} bodyM={bodyAtTipM} size="full" />,
  )
  // SVG turns clockwise for positive angles: the right end, where the dog gets off, rises for a negative one.
  const turn = Number(/rotate\((-?[\d.]+)\)"><rect class="tip-zone"/.exec(svg)?.[1])
  expect(turn).toBeCloseTo((calibration.best.restAngleRad * 180) / Math.PI, 6)
  expect(turn).toBeLessThan(0)
})

test('the style of the figures has only what PDF can read: classes on one element, no sizes in rem', () => {
  const css = readFileSync(join(import.meta.dirname, '../../../renderer/figures/figures.css'), 'utf8')
  const rules = [...css.replace(/\/\*.*?\*\//gs, '').matchAll(/([^{}]+)\{([^{}]*)\}/g)]
  expect(rules.length).toBeGreaterThan(30)
  const bad = rules.flatMap(([, selectors, body]) => [
    ...selectors!.split(',').filter((selector) => !/^\s*(\.[\w-]+)+\s*$/.test(selector)),
    ...(/\d(rem|em|%)\b/.test(body!) ? [body!] : []),
  ])
  expect(bad).toEqual([])
})

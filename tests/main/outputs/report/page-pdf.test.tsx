import { inflateSync } from 'node:zlib'
import { expect, test } from 'vitest'
import { pagePdf } from '../../../../main/outputs/report/page-pdf.ts'
import type { Block } from '../../../../main/outputs/report/report-page.ts'
import { ridePage } from '../../../../main/outputs/report/ride-page.tsx'
import { ChartLegend } from '../../../../renderer/figures/chart-legend.tsx'
import { bailOff, sampleMeasured, sampleRide } from './sample-ride.ts'

/** Sheets of a PDF, by the objects that ISO 32000 calls page objects. */
const sheets = (pdf: Uint8Array) =>
  Buffer.from(pdf)
    .toString('latin1')
    .match(/\/Type \/Page\b(?!s)/g)?.length ?? 0

/** The drawing operators of all sheets. */
function drawn(pdf: Uint8Array): string {
  const bytes = Buffer.from(pdf)
  const text = bytes.toString('latin1')
  return [...text.matchAll(/\/Filter \/FlateDecode\n>>\nstream\n/g)]
    .map(({ index, 0: { length } }) => bytes.subarray(index + length, text.indexOf('endstream', index)))
    .map((stream) => {
      try {
        return inflateSync(stream).toString('latin1')
      } catch {
        return ''
      }
    })
    .join('\n')
}

test.each([
  ['a ride', sampleRide],
  ['a ride without a tip', bailOff],
])('%s is written as a PDF with our font in it', async (_, ride) => {
  const pdf = await pagePdf(ridePage({ ...sampleMeasured, ride }, []))
  const text = Buffer.from(pdf).toString('latin1')
  expect(text.startsWith('%PDF-1.')).toBe(true)
  expect(text).toContain('Figtree')
  expect(sheets(pdf)).toBeGreaterThan(0)
})

test('the colours of the figures are those of the paper theme', async () => {
  const operators = drawn(await pagePdf(ridePage(sampleMeasured, [])))
  // --front on a light ground is #b04d27: 176, 77 and 39 of 255 each.
  expect(operators.includes(`${176 / 255} ${77 / 255} ${39 / 255} scn`)).toBe(true)
})

test('what does not fit on a sheet goes to the next', async () => {
  const page = (lines: number) => {
    const items = Array.from({ length: lines }, (_, k) => `Line ${k} of a list.`)
    const list: Block = { kind: 'list', items, tone: 'plain' }
    return { title: 'Long', blocks: [{ kind: 'section', title: 'All', blocks: [list] }], foot: [] } as const
  }
  expect(sheets(await pagePdf(page(10)))).toBe(1)
  // 150 lines of at least 9 pt are more than the 842 pt of an A4 sheet hold.
  expect(sheets(await pagePdf(page(150)))).toBeGreaterThan(1)
})

test('a figure that is no drawing is a bug that says so', async () => {
  const blocks: readonly Block[] = [{ kind: 'figure', figure: <ChartLegend />, caption: null }]
  await expect(pagePdf({ title: 'x', blocks, foot: [] })).rejects.toThrow('SVG with a view box')
})

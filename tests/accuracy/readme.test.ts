import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { markedPart, withMarkedPart } from './marked-part.ts'
import { readAccuracy } from './record.ts'
import { readSpeed, speedInWords } from './speed-record.ts'
import { accuracyInWords } from './table.ts'

test('README.md says of accuracy what the last recorded run found: npm run bench:accuracy writes both', () => {
  const page = readFileSync(join(import.meta.dirname, '../../README.md'), 'utf8')
  expect(markedPart(page, 'accuracy')).toBe(accuracyInWords(readAccuracy()))
})

test('README.md says of speed what the last recorded run found: npm run bench:speed writes both', () => {
  const page = readFileSync(join(import.meta.dirname, '../../README.md'), 'utf8')
  expect(markedPart(page, 'speed')).toBe(speedInWords(readSpeed()))
})

test('a marked part is renewed and the rest of the page stays', () => {
  const page = 'before\n<!-- speed: written by x -->\n\nold\n\n<!-- /speed -->\nafter'
  expect(withMarkedPart(page, 'speed', 'new')).toBe(page.replace('old', 'new'))
  expect(markedPart(page, 'speed')).toBe('old')
  expect(() => markedPart(page, 'accuracy')).toThrow('no part marked accuracy')
})

test('errors are told by their median and their worst, with what was not given or given for nothing', () => {
  const measured = (error: number, isInside95 = true) =>
    ({ state: 'measured', error, isInside95, width95: 0.01 }) as const
  const ride = (tipStartS: object) => ({
    name: 'made up',
    kind: 'ride' as const,
    frameS: 0.04,
    values: { tipStartS } as never,
    verdicts: { up: 'right' as const, down: 'unsure' as const },
    angleError95Deg: 0.1,
    footfalls: { wanted: 10, given: 9, matched: 8, limbRight: 8 },
  })
  const values = [measured(0.001), measured(-0.004, false), measured(0.002), measured(0.003), { state: 'withheld' }]
  const told = accuracyInWords({
    sample: { measuredOn: '2026-03-01', clips: values.map(ride), failed: [] },
    shared: null,
  }).replace(/ +/g, ' ')
  expect(told).toContain('5 rides and 0 drop tests, measured on 1 March 2026')
  expect(told).toContain('| tip start | 2.5 ms | 4.0 ms (0.10 frames) | 3 of 4; 1 not given |')
  expect(told).toContain('| footfalls | 40 of 50 found | 5 of 45 given are not in the truth |')
  expect(told).toContain('| verdicts | 5 of 10 right | 5 unsure, 0 wrong |')
})

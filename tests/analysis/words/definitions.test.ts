import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { DEFINITIONS } from '../../../analysis/words/definitions.ts'
import { markedPart } from '../../accuracy/marked-part.ts'

/** README.md's table: one line a definition. */
function definitionsTable(): string {
  const rows = DEFINITIONS.flatMap(({ definitions }) => definitions.map(({ name, means }) => [name, means]))
  const widths = [0, 1].map((column) => Math.max(...rows.map((row) => row[column]!.length)))
  const line = (row: readonly string[]) => `| ${row.map((cell, k) => cell.padEnd(widths[k]!)).join(' | ')} |`
  const rule = `| ${widths.map((width) => '-'.repeat(width)).join(' | ')} |`
  return [line(['measure', 'what it is']), rule, ...rows.map(line)].join('\n')
}

test("README.md defines every measure in the program's own words", () => {
  const page = readFileSync(join(import.meta.dirname, '../../../README.md'), 'utf8')
  expect(markedPart(page, 'definitions')).toBe(definitionsTable())
})

test('no number is defined twice', () => {
  const names = DEFINITIONS.flatMap(({ definitions }) => definitions.map(({ name }) => name))
  expect(new Set(names).size).toBe(names.length)
})

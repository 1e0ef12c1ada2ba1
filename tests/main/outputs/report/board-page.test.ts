import { describe, expect, test } from 'vitest'
import { checkBoard } from '../../../../analysis/board-physics/board-check.ts'
import { seededRandom } from '../../../../analysis/numeric/random.ts'
import { ruleSetOf } from '../../../../analysis/rules/rule-sets.ts'
import type { BoardCheckFile } from '../../../../analysis/board-physics/board-check-file.ts'
import { parseDroptest } from '../../../../main/files/droptest-file.ts'
import { boardPage } from '../../../../main/outputs/report/board-page.tsx'
import { pageHtml } from '../../../../main/outputs/report/page-html.tsx'
import { filmedDrop, type TrueBoard } from '../../../simulated-boards/simulated-board.ts'

const truth: TrueBoard = {
  board: { lengthM: 3.66, widthM: 0.34, pivotHeightM: 0.61, contactM: 0.914 },
  plankKg: 13.4,
  inertiaKgM2: 15,
  biasTorqueNm: 2,
  coulombNm: 0.5,
  viscousNms: 2,
  restRad: -0.3166,
  groundRad: 0.3166,
}

function htmlOf(masses: readonly number[], board = truth, isAssumed = false): string {
  const filming = { rateHz: 25, noiseDeg: 0.05, eventSdS: 0.02 }
  const drops = masses.map((massKg) => filmedDrop(board, massKg, 3.203, filming, seededRandom(massKg)))
  const read = parseDroptest({ drops }, 'drops.json', board.board)
  if (!read.ok) throw new Error(read.message)
  const rules = ruleSetOf('uk')!
  const request = { drops: read.value, board: board.board, plankKg: null, counterweights: [] }
  const file: BoardCheckFile = {
    schema: 'tiphold.boardcheck/1',
    program: { version: '0.1.0' },
    rules: { key: rules.key, name: rules.name, source: rules.drop!.source },
    drops: read.value.map((drop) => ({ ...drop, day: '2026-05-14' })),
    plankKg: null,
    ...checkBoard({ ...request, rules: { ...rules, drop: rules.drop! } }),
  }
  return pageHtml(boardPage(file, board.board, { name: 'Club aluminium', isAssumed }))
}

describe("a board's page", () => {
  test('of a board that is too fast says so, what to fasten where, which size is wrong, and that it is no judge', () => {
    const html = htmlOf([1, 2])
    expect(html).toContain('That is too fast: UK, since 2021 asks for 2 to 3 s.')
    expect(html).toMatch(/Fasten \d\.\d\d kg \d\.\d\d m before the pivot/)
    expect(html).toContain('Club aluminium: board check, UK, since 2021')
    expect(html).toContain('35 mm too large')
    expect(html).toContain('no judge’s check')
    expect(html).toContain('No dog on the board')
    expect(html).toContain('Rests on 2 drops of 14 May 2026')
    expect(html).not.toMatch(/NaN|undefined|Infinity/)
  })

  test('of a board that nobody measured says so, and calls none of its sizes right', () => {
    const html = htmlOf([1, 2], truth, true)
    expect(html).toContain('Nobody has measured this board')
    expect(html).not.toContain('35 mm too large')
    expect(html).not.toContain('As entered')
  })

  test('of a board that never moved asks for a heavier weight and draws neither fall nor dogs', () => {
    const html = htmlOf([1], { ...truth, biasTorqueNm: 16 })
    expect(html).toContain('does not move')
    expect(html).toContain('Film a drop with a heavier weight')
    expect(html).not.toContain('The fall in the test')
    expect(html).not.toMatch(/NaN|undefined|Infinity/)
  })
})

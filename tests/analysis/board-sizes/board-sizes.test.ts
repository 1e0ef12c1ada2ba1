import { describe, expect, test } from 'vitest'
import { boardSizes } from '../../../analysis/board-sizes/board-sizes.ts'
import type { PictureSizes } from '../../../analysis/board-sizes/picture-sizes.ts'
import { doubtSentence, sizeNotes } from '../../../analysis/board-sizes/size-words.ts'
import { measured } from '../../../analysis/estimate.ts'
import { ruleSetOf } from '../../../analysis/rules/rule-sets.ts'

const board = { lengthM: 3.66, widthM: 0.3, pivotHeightM: 0.61, contactM: 0.914 }
const seen = (upM: number, downM: number, heightM = 0.61): PictureSizes => ({
  lengthM: 3.66,
  upContactM: measured(upM, 0.008),
  downContactM: measured(downM, 0.008),
  pivotHeightM: measured(heightM, 0.018),
  restAngleDeg: measured(-18.1, 0.5),
  swingDeg: measured(36.2, 0.7),
})
const uk = ruleSetOf('uk')!
const akc = ruleSetOf('akc')!

describe('several pictures of one board', () => {
  const sizes = boardSizes([seen(0.92, 0.91), seen(0.91, 0.916)], board, uk)!

  test('tell its zones better than one: the weighted mean', () => {
    expect(sizes.contactM.value).toBeCloseTo(0.914, 4)
    // Four values of 8 mm each (any textbook: sd / sqrt n).
    expect(sizes.contactM.sd).toBeCloseTo(0.004, 4)
  })

  test('tell its height no better than the ground under its ends is even', () => {
    const many = boardSizes(
      Array.from({ length: 50 }, () => seen(0.914, 0.914)),
      board,
      uk,
    )!
    // 1.5 cm under each end, half their sum: 1.06 cm.
    expect(many.pivotHeightM.sd).toBeGreaterThan(0.0105)
  })

  test('that disagree are told less surely', () => {
    const apart = boardSizes([seen(0.88, 0.88), seen(0.95, 0.95)], board, uk)!
    expect(apart.contactM.sd).toBeGreaterThan(0.015)
  })

  test('are told by the length that is entered now', () => {
    const longer = boardSizes([{ ...seen(0.914, 0.914), lengthM: 3.6 }], board, uk)!
    expect(longer.contactM.value).toBeCloseTo((0.914 * 3.66) / 3.6, 6)
  })
})

describe('against a rule set', () => {
  test('a zone of the UK is outside for AKC, by how much', () => {
    const [zone] = boardSizes([seen(0.914, 0.914)], board, akc)!.findings
    // AKC: 42 in +- 1/4 in, 1.0604 m at least (club pages that quote its regulations).
    expect(zone).toMatchObject({ part: 'contactM', outcome: 'outside' })
    expect(zone!.outsideByM).toBeCloseTo(0.914 - 1.06045, 3)
  })

  test('a height that may as well be outside is too uncertain to say', () => {
    const height = boardSizes([seen(0.914, 0.914, 0.63)], board, uk)!.findings[1]
    expect(height).toMatchObject({ part: 'pivotHeightM', outcome: 'unsure' })
  })
})

describe('a wrong entry', () => {
  test('of the zones is named', () => {
    const { doubts } = boardSizes([seen(1.06, 1.07)], board, uk)!
    expect(doubts.map(({ what }) => what)).toEqual(['contactM'])
    expect(doubtSentence(doubts[0]!, 3.66)).toBe(
      'The contact zones look 1.065 m ± 0.011 long beside a plank of 3.66 m, but 0.914 m is entered. Measure the zones and the plank again by tape.',
    )
  })

  test('of the height is named', () => {
    expect(boardSizes([seen(0.914, 0.914, 0.68)], board, uk)!.doubts.map(({ what }) => what)).toEqual(['pivotHeightM'])
  })

  test('of one zone shows as zones that differ', () => {
    expect(boardSizes([seen(0.914, 0.98)], board, uk)!.doubts.map(({ what }) => what)).toContain('zones-differ')
  })

  test('within what clicks tell is none', () => {
    expect(boardSizes([seen(0.925, 0.905, 0.63)], board, uk)!.doubts).toEqual([])
  })
})

test('what no picture tells is said: how long anything is, and whether the ground is level', () => {
  const notes = sizeNotes(boardSizes([seen(0.914, 0.914)], board, uk)!)
  expect(notes[0]).toContain('18.1° ± 1.0')
  expect(notes[0]).toContain('36.2° ± 1.4')
  expect(notes.join(' ')).toContain('proportions only')
  expect(notes.join(' ')).toContain('spirit level')
})

test('without pictures nothing is told', () => {
  expect(boardSizes([], board, uk)).toBeNull()
})

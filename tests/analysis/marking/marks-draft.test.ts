import { describe, expect, test } from 'vitest'
import { draftOf, frameFault, type MarksDraft, marksOf, NO_MARKS } from '../../../analysis/marking/marks-draft.ts'

const at = (xPx: number, yPx: number) => ({ xPx, yPx })
const whole = {
  rest: {
    frame: 4,
    entryEnd: at(200, 400),
    exitEnd: at(800, 200),
    pivot: at(500, 300),
    upContactEdge: at(350, 350),
    downContactEdge: at(650, 250),
  },
  grounded: { frame: 60, entryEnd: at(200, 200), exitEnd: at(800, 400) },
  neverLands: false,
} satisfies MarksDraft
const clip = { fileName: 'run.mp4', travel: null }

function saidOf(draft: MarksDraft, travel: 'to-right' | 'to-left' | null = null): string {
  const outcome = marksOf(draft, { ...clip, travel })
  return outcome.ok ? 'fine' : outcome.message
}

describe('marks to measure with', () => {
  test('are those of a whole draft', () => {
    const outcome = marksOf(whole, clip)
    expect(outcome).toEqual({ ok: true, value: { clip: 'run.mp4', rest: whole.rest, grounded: whole.grounded } })
    expect(outcome.ok && draftOf(outcome.value)).toEqual(whole)
  })

  test('have no landing when the exit end never lands, even if one was marked before', () => {
    const outcome = marksOf({ ...whole, neverLands: true }, clip)
    expect(outcome.ok && outcome.value).toEqual({ clip: 'run.mp4', rest: whole.rest })
    expect(outcome.ok && draftOf(outcome.value)).toEqual({ ...whole, grounded: null, neverLands: true })
  })

  test.each<[string, MarksDraft, RegExp]>([
    [
      'nothing',
      NO_MARKS,
      /^Mark the two ends, the pivot and the two zone borders in a frame with the board at rest\.$/,
    ],
    ['the pivot', { ...whole, rest: { ...whole.rest, pivot: null } }, /^Mark the pivot in a frame/],
    [
      'an end and a border',
      { ...whole, rest: { ...whole.rest, entryEnd: null, downContactEdge: null } },
      /Mark the entry end and the inner border of the down contact in a frame/,
    ],
    [
      'the landing',
      { ...whole, grounded: null },
      /Mark both ends in a frame with the exit end on the ground, or say that/,
    ],
    [
      'one end of the landing',
      { ...whole, grounded: { ...whole.grounded, exitEnd: null } },
      /Mark the exit end in a frame with the exit end on the ground/,
    ],
  ])('are missing in a draft without %s, and it is said what', (_, draft, says) => {
    expect(saidOf(draft)).toMatch(says)
  })

  test('are refused when they run against the said direction', () => {
    expect(saidOf(whole, 'to-right')).toBe('fine')
    expect(saidOf(whole, 'to-left')).toMatch(/said to cross to the left.*swap the ends/)
  })

  test('are refused when both ends lie on one spot', () => {
    expect(saidOf({ ...whole, rest: { ...whole.rest, exitEnd: at(230, 400) } })).toMatch(/marked 30 px apart/)
  })
})

describe('frames of marks', () => {
  test('must be frames of the clip', () => {
    expect(frameFault(whole, 61)).toBeNull()
    expect(frameFault(whole, 60)).toMatch(/has 60 frames, numbered from 0: there is no 60/)
  })

  test('must be two different ones', () => {
    expect(frameFault({ ...whole, grounded: { ...whole.grounded, frame: 4 } }, 100)).toMatch(/the same frame/)
  })

  test('may be missing altogether', () => {
    expect(frameFault(NO_MARKS, 2)).toBeNull()
  })
})

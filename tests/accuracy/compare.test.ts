import { expect, test } from 'vitest'
import { measured, withheld } from '../../analysis/estimate.ts'
import { compare, curveError95, scoreVerdict } from './compare.ts'
import { scoreFootfalls, trueFootfalls } from './footfall-score.ts'

test('a value is measured, withheld, invented or rightly absent', () => {
  const none = withheld('not-seen', 'Not seen.')
  expect(compare(measured(2, 0.1), 2.1)).toMatchObject({ state: 'measured', isInside95: true })
  expect(compare(measured(2, 0.1), 2.3)).toMatchObject({ state: 'measured', isInside95: false })
  expect(compare(none, 2).state).toBe('withheld')
  expect(compare(measured(2, 0.1), null).state).toBe('invented')
  expect(compare(none, null).state).toBe('none')
})

test('an open verdict is neither right nor wrong', () => {
  expect([
    scoreVerdict('missed', 'missed'),
    scoreVerdict('unsure', 'missed'),
    scoreVerdict('touched', 'missed'),
  ]).toEqual(['right', 'unsure', 'wrong'])
})

test('a curve is judged by the frames that both have', () => {
  const ptsS = Array.from({ length: 21 }, (_, k) => k / 25)
  const truth = { ptsS, values: ptsS.map(() => 1) }
  const values = ptsS.map((_, k) => (k === 3 ? null : k === 7 ? 9 : 1.5))
  expect(curveError95({ ptsS, values }, truth)).toBe(0.5)
  expect(curveError95({ ptsS: [7], values: [1] }, truth)).toBeNull()
})

test('a true footfall is a paw that touches the plank for 80 ms', () => {
  const truth = {
    camera: { fps: 25 },
    board: { lengthM: 3.66 },
    events: {},
    frames: {
      ptsS: [0, 0.04, 0.08, 0.12, 0.16, 0.2],
      angleDeg: [],
      paws: {
        LF: { s: [1, 1, 1, 2, 2, 2], touching: [1, 1, 1, 0, 1, 1] },
        RH: { s: [-1, -1, -1, -1, -1, -1], touching: [1, 1, 1, 1, 1, 1] },
      },
    },
  }
  expect(trueFootfalls(truth)).toEqual([{ alongM: 1, fromS: 0, toS: 0.08, limb: 'front' }])
})

test('a footfall is matched once, by place and time', () => {
  const want = { alongM: 1, fromS: 1, toS: 1.2, limb: 'front' } as const
  const got = { alongM: 1.05, fromS: 1.05, toS: 1.3, limb: 'hind', confidence: 1 } as const
  const elsewhere = { ...got, alongM: 1.2 }
  const later = { ...got, fromS: 1.15 }
  expect(scoreFootfalls([want], [got, got])).toEqual({ wanted: 1, given: 2, matched: 1, limbRight: 0 })
  expect(scoreFootfalls([want], [elsewhere, later]).matched).toBe(0)
})

import { expect, test } from 'vitest'
import { chartLayout } from '../../../renderer/figures/chart-layout.ts'
import { chartSentence, footfallLine } from '../../../renderer/chart/chart-words.ts'
import { bailOff, sampleRide } from '../../main/outputs/report/sample-ride.ts'

test('a chart says in words when what happened and how many paws stood', () => {
  expect(chartSentence(sampleRide)).toBe(
    'The ride in time: first paw on at 1.00 s, board began to tip at 2.00 s, lead paw came to rest at 2.50 s, ' +
      'board landed at 3.00 s and dog left at 4.00 s. Paw contacts: 3 front and 1 hind.',
  )
  expect(chartSentence(bailOff)).toBe(
    'The ride in time: first paw on at 1.00 s and dog left at 1.90 s. Paw contacts: 1 front and 1 hind.',
  )
})

test('a paw contact is told by paw, place from the pivot, and time', () => {
  expect(footfallLine(sampleRide.footfalls[2]!, 3.66, 'metric')).toEqual({
    limb: 'front',
    place: '0.87 m past the pivot',
    from: '1.80',
    to: '2.30',
  })
})

test('time runs right, the plank runs up, and no row covers another', () => {
  for (const [widthPx, heightPx, emPx] of [
    [1250, 290, 12],
    [980, 200, 12],
    [1250, 330, 19],
  ] as const) {
    const { x, y, rows, left, right } = chartLayout({ widthPx, heightPx }, emPx, [1, 5], { lengthM: 3.66 })
    expect([x(1), x(5)]).toEqual([left, right])
    expect(y(3.66)).toBeLessThan(y(0))
    const { labels, tilt, stretches, plank, sound, time } = rows
    const borders = [labels, tilt, stretches, plank, sound, time].flatMap(({ top, bottom }) => [top, bottom])
    expect(borders).toEqual([...borders].sort((a, b) => a - b))
    expect(plank.bottom - plank.top).toBeGreaterThan(3 * emPx)
  }
})

import { describe, expect, test } from 'vitest'
import { type ChartEvent, spread } from '../../../main/report/chart-events.ts'

const eventAt = (xPx: number): ChartEvent => ({
  word: 'tip',
  name: 'tip',
  xPx,
  fromPx: xPx,
  toPx: xPx,
  labelPx: xPx,
  labelWidthPx: 40,
})

describe('labels of events', () => {
  test('stay over their events while there is room', () => {
    expect(spread([eventAt(100), eventAt(200)]).map((event) => event.labelPx)).toEqual([100, 200])
  })

  test('move apart evenly where events lie close together, and keep their order', () => {
    // Two labels of 40 px with 4 px between, about the middle of 100 and 110.
    expect(spread([eventAt(110), eventAt(100)]).map((event) => event.labelPx)).toEqual([83, 127])
  })

  test('never cover each other, however many there are', () => {
    const labels = spread([300, 305, 306, 330, 380, 381].map(eventAt))
    labels.slice(1).forEach((event, k) => expect(event.labelPx - labels[k]!.labelPx).toBeGreaterThanOrEqual(44 - 1e-9))
  })
})

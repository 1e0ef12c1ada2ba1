import { describe, expect, test } from 'vitest'
import { spreadLabels } from '../../../analysis/drawing/spread-labels.ts'

const labelAt = (xPx: number) => ({ xPx, labelWidthPx: 40 })

describe('labels of events', () => {
  test('stay over their events while there is room', () => {
    expect(spreadLabels([labelAt(100), labelAt(200)]).map((label) => label.labelPx)).toEqual([100, 200])
  })

  test('move apart evenly where events lie close together, and keep their order', () => {
    // Two labels of 40 px with 4 px between, about the middle of 100 and 110.
    expect(spreadLabels([labelAt(110), labelAt(100)]).map((label) => label.labelPx)).toEqual([83, 127])
  })

  test('never cover each other, however many there are', () => {
    const labels = spreadLabels([300, 305, 306, 330, 380, 381].map(labelAt))
    labels.slice(1).forEach((label, k) => expect(label.labelPx - labels[k]!.labelPx).toBeGreaterThanOrEqual(44 - 1e-9))
  })
})

import { expect, test } from 'vitest'
import { soundBars } from '../../../analysis/drawing/sound-bars.ts'

test('each bar is as loud as the loudest instant in it, the loudest of all fills the row', () => {
  // 100 values a second from 1 s on, 4 px a bar, 100 px a second: four values a bar.
  const level = [0.1, 0, 0, 0, 0, 0.4, 0, 0, 0, 0, 0, 0.2]
  const bars = soundBars({ startS: 1, rateHz: 100, level }, { invert: (xPx) => 1 + xPx / 100 }, 0, 12)
  expect(bars.map(({ xPx, share }) => [xPx, Number(share.toFixed(9))])).toEqual([
    [2, 0.25],
    [6, 1],
    [10, 0.5],
  ])
})

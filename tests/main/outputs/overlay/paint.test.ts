import { describe, expect, test } from 'vitest'
import type { Frame } from '../../../../analysis/clip/frame.ts'
import { canWrite, paintText, textWidthPx } from '../../../../main/outputs/overlay/lettering.ts'
import {
  paintDisc,
  paintLine,
  paintPanel,
  paintRing,
  paintTriangle,
  type Yuv,
  yuvFrom,
} from '../../../../main/outputs/overlay/paint.ts'

const sizePx = 64
/** A black frame; painting 100 in all planes makes a plane's sum 100 times the painted area. */
const blank = (): Frame => ({
  index: 0,
  ptsS: 0,
  view: { widthPx: sizePx, heightPx: sizePx, originXPx: 0, originYPx: 0, scale: 1 },
  y: new Uint8Array(sizePx * sizePx),
  u: new Uint8Array((sizePx * sizePx) / 4),
  v: new Uint8Array((sizePx * sizePx) / 4),
})
const hundred: Yuv = { y: 100, u: 100, v: 100 }
const areaPx = (plane: Uint8Array) => plane.reduce((sum, value) => sum + value, 0) / 100

describe('painted shapes cover their area', () => {
  test.each([
    ['disc', Math.PI * 81, (frame: Frame) => paintDisc(frame, [31.3, 30.8], 9, hundred)],
    ['ring', 2 * Math.PI * 12 * 3, (frame: Frame) => paintRing(frame, [31.3, 30.8], 12, 3, hundred)],
    // A line of length 25 and width 4 with round ends.
    [
      'line',
      25 * 4 + Math.PI * 4,
      (frame: Frame) =>
        paintLine(
          frame,
          [
            [20, 20],
            [35, 40],
          ],
          4,
          hundred,
        ),
    ],
    [
      'triangle',
      (30 * 20) / 2,
      (frame: Frame) =>
        paintTriangle(
          frame,
          [
            [15, 20],
            [45, 20],
            [22, 40],
          ],
          hundred,
        ),
    ],
    // The corners of a rounded box lack (4 - pi) r squared.
    ['panel', 40 * 20 - (4 - Math.PI) * 25, (frame: Frame) => paintPanel(frame, [10, 10], [50, 30], 5, hundred, 1)],
  ] as const)('a %s', (_, expectedPx, paintIt) => {
    const frame = blank()
    paintIt(frame)
    expect(areaPx(frame.y) / expectedPx).toBeCloseTo(1, 1.5)
    // Chroma planes have half the size in both directions.
    expect((4 * areaPx(frame.u)) / expectedPx).toBeCloseTo(1, 1)
    expect(areaPx(frame.v)).toBe(areaPx(frame.u))
  })

  test('a panel lets the picture through as much as it should', () => {
    const frame = blank()
    frame.y.fill(200)
    paintPanel(frame, [10, 10], [50, 30], 2, hundred, 0.7)
    expect(frame.y[20 * sizePx + 30]).toBe(130)
  })

  test('what lies outside the picture is cut off, not wrapped around', () => {
    const frame = blank()
    paintLine(
      frame,
      [
        [-30, 10],
        [200, 10],
      ],
      2,
      hundred,
    )
    paintDisc(frame, [-50, 300], 20, hundred)
    expect(areaPx(frame.y)).toBeCloseTo(2 * sizePx, 5)
  })
})

describe('colours', () => {
  test('black, white and grey are neutral in both standards', () => {
    for (const isHighDefinition of [false, true]) {
      expect(yuvFrom(0, 0, 0, isHighDefinition)).toEqual({ y: 16, u: 128, v: 128 })
      const white = yuvFrom(255, 255, 255, isHighDefinition)
      expect([white.y, white.u, white.v].map((value) => Number(value.toFixed(6)))).toEqual([235, 128, 128])
    }
  })

  test('pure red and blue are as in the standards (ITU-R BT.601-7 and BT.709-6, 75 % bars scaled to 100 %)', () => {
    const rounded = ({ y, u, v }: Yuv) => [y, u, v].map(Math.round)
    expect(rounded(yuvFrom(255, 0, 0, false))).toEqual([81, 90, 240])
    expect(rounded(yuvFrom(0, 0, 255, false))).toEqual([41, 240, 110])
    expect(rounded(yuvFrom(255, 0, 0, true))).toEqual([63, 102, 240])
    expect(rounded(yuvFrom(0, 0, 255, true))).toEqual([32, 240, 118])
  })
})

describe('captions', () => {
  test('can be written with the letters there are', () => {
    expect(canWrite('0123456789.   −+°')).toBe(true)
    for (const word of ['s', 'frame', 'board', 'on', 'tip', 'landed', 'off']) expect(canWrite(word)).toBe(true)
  })

  test('are as wide as said', () => {
    const frame = blank()
    paintText(frame, 'h', [10, 40], 24, 2, hundred)
    const columns = [...frame.y.keys()].filter((at) => frame.y[at]! > 50).map((at) => at % sizePx)
    // The pen's middle runs from 10 to 10 + 12; its width goes on for 1 px on both sides.
    expect([Math.min(...columns), Math.max(...columns)]).toEqual([9, 10 + textWidthPx('h', 24)])
    expect(textWidthPx('hh', 24)).toBeCloseTo(2 * 12 + 2.4 * 2, 9)
  })
})

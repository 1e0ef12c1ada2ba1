import { expect, test } from 'vitest'
import { viewFor } from '../../../analysis/clip/view.ts'

const fullHd = { widthPx: 1920, heightPx: 1080 }

test('1920 x 1080 at most 0.68 is 1280 x 720: a simple fraction that loses no border', () => {
  expect(viewFor(fullHd, undefined, 0.68)).toEqual({
    widthPx: 1280,
    heightPx: 720,
    originXPx: 0,
    originYPx: 0,
    scale: 2 / 3,
  })
})

test('a picture is never enlarged', () => {
  expect(viewFor(fullHd, undefined, 3)).toMatchObject({ widthPx: 1920, heightPx: 1080, scale: 1 })
})

test('a small scale is one over a whole number', () => {
  expect(viewFor({ widthPx: 3840, heightPx: 2160 }, undefined, 1 / 24)).toMatchObject({ widthPx: 160, heightPx: 90 })
})

test('a rectangle is covered, starts on even px and has an even size', () => {
  const crop = { xPx: 101, yPx: 51, widthPx: 333, heightPx: 222 }
  for (const scale of [1, 0.9, 0.77, 0.5, 0.31, 0.1]) {
    const view = viewFor(fullHd, crop, scale)
    expect([view.originXPx % 2, view.originYPx % 2, view.widthPx % 2, view.heightPx % 2]).toEqual([0, 0, 0, 0])
    expect(view.originXPx).toBeLessThanOrEqual(crop.xPx)
    expect(view.originYPx).toBeLessThanOrEqual(crop.yPx)
    expect(view.originXPx + view.widthPx / view.scale).toBeGreaterThanOrEqual(crop.xPx + crop.widthPx)
    expect(view.originYPx + view.heightPx / view.scale).toBeGreaterThanOrEqual(crop.yPx + crop.heightPx)
    expect(view.scale).toBeLessThanOrEqual(scale + 1e-9)
    expect(view.scale).toBeGreaterThanOrEqual(0.9 * scale - 1e-9)
  }
})

test('what lies outside the picture is left out', () => {
  const view = viewFor(fullHd, { xPx: -50, yPx: 900, widthPx: 200, heightPx: 500 })
  expect(view).toEqual({ widthPx: 150, heightPx: 180, originXPx: 0, originYPx: 900, scale: 1 })
})

test('the decoded size is the rectangle times the scale, exactly, in both directions', () => {
  for (const size of [fullHd, { widthPx: 1080, heightPx: 1920 }, { widthPx: 2704, heightPx: 1520 }]) {
    for (const scale of [0.2, 0.3, 0.41, 0.52, 0.63, 0.74, 0.85, 0.96]) {
      const view = viewFor(size, undefined, scale)
      const stored = [view.widthPx / view.scale, view.heightPx / view.scale]
      for (const px of stored) expect(Math.abs(px - Math.round(px))).toBeLessThan(1e-9)
      expect(stored[0]).toBeLessThanOrEqual(size.widthPx + 1e-9)
      expect(stored[0]).toBeGreaterThan(size.widthPx - 33)
      expect(stored[1]).toBeGreaterThan(size.heightPx - 33)
    }
  }
})

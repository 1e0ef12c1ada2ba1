import type { Frame, View } from './frame.ts'

/**
 * Column of the decoded picture (pixel index, centres at whole numbers) where image `xPx` lies.
 *
 * @param view where the decoded picture lies in the displayed one
 */
export function columnOf(view: View, xPx: number): number {
  return (xPx - view.originXPx) * view.scale - 0.5
}

/**
 * Row of the decoded picture (pixel index, centres at whole numbers) where image `yPx` lies.
 *
 * @param view where the decoded picture lies in the displayed one
 */
export function rowOf(view: View, yPx: number): number {
  return (yPx - view.originYPx) * view.scale - 0.5
}

/**
 * One plane's value between pixels, bilinear.
 *
 * @param plane 8-bit samples, row by row
 * @param column pixel index, fractions allowed; @param row likewise
 * @param heightPx rows of the plane
 * @param widthPx columns of the plane
 * @returns 0-255, or NaN where the four neighbours are not all inside the plane
 */
export function bilinear(plane: Uint8Array, widthPx: number, heightPx: number, column: number, row: number): number {
  const c = Math.floor(column)
  const r = Math.floor(row)
  if (!(c >= 0 && r >= 0 && c < widthPx - 1 && r < heightPx - 1)) return NaN
  const i = r * widthPx + c
  const fx = column - c
  const fy = row - r
  const top = plane[i]! + fx * (plane[i + 1]! - plane[i]!)
  const bottom = plane[i + widthPx]! + fx * (plane[i + widthPx + 1]! - plane[i + widthPx]!)
  return top + fy * (bottom - top)
}

/**
 * Luma and chroma at an image point, bilinear; 4:2:0 chroma is taken from its own half-size grid.
 *
 * @param xPx full-resolution image px; @param yPx likewise
 * @param out three numbers Y, U, V (0-255) from index `at` on; all NaN outside the decoded picture
 * @param frame the decoded picture
 * @returns true when inside
 */
export function sampleColour(frame: Frame, xPx: number, yPx: number, out: Float32Array, at: number): boolean {
  const view = frame.view
  const column = (xPx - view.originXPx) * view.scale - 0.5
  const row = (yPx - view.originYPx) * view.scale - 0.5
  const w = view.widthPx
  const h = view.heightPx
  if (!(column >= 0.5 && row >= 0.5 && column < w - 1.5 && row < h - 1.5)) {
    out[at] = out[at + 1] = out[at + 2] = NaN
    return false
  }
  const c = Math.floor(column)
  const r = Math.floor(row)
  const fx = column - c
  const fy = row - r
  const i = r * w + c
  const y = frame.y
  const top = y[i]! + fx * (y[i + 1]! - y[i]!)
  const bottom = y[i + w]! + fx * (y[i + w + 1]! - y[i + w]!)
  out[at] = top + fy * (bottom - top)
  // Centre of chroma sample k lies between luma columns 2k and 2k + 1.
  const hw = w >> 1
  const cc = Math.max(0, column / 2 - 0.25)
  const cr = Math.max(0, row / 2 - 0.25)
  const c2 = Math.min(Math.floor(cc), hw - 2)
  const r2 = Math.min(Math.floor(cr), (h >> 1) - 2)
  const gx = Math.min(1, cc - c2)
  const gy = Math.min(1, cr - r2)
  const j = r2 * hw + c2
  for (let k = 1; k <= 2; k++) {
    const p = k === 1 ? frame.u : frame.v
    const a = p[j]! + gx * (p[j + 1]! - p[j]!)
    const b = p[j + hw]! + gx * (p[j + hw + 1]! - p[j + hw]!)
    out[at + k] = a + gy * (b - a)
  }
  return true
}

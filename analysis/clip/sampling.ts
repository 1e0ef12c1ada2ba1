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
 * The projection from full-resolution image px to column and row (indices) of a plane of the decoded picture.
 *
 * @param view where the decoded picture lies in the displayed one
 * @param sizePx of the plane's pixels, decoded luma px: 2 for chroma
 * @returns 3 x 3, row by row
 */
export function planeFromImage(view: View, sizePx: 1 | 2): Float64Array {
  const perPx = view.scale / sizePx
  const column0 = -view.originXPx * perPx - 0.5
  const row0 = -view.originYPx * perPx - 0.5
  return Float64Array.of(perPx, 0, column0, 0, perPx, row0, 0, 0, 1)
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
  return betweenFour(plane, widthPx, r * widthPx + c, column - c, row - r)
}

/**
 * The value between four neighbours that are known to lie inside the plane.
 *
 * @param plane 8-bit samples, row by row
 * @param widthPx columns of the plane
 * @param at index of the upper left neighbour
 * @param fx share of the way to the right neighbours, 0-1
 * @param fy share of the way to the lower neighbours, 0-1
 * @returns 0-255
 * @example betweenFour(Uint8Array.of(0, 10, 20, 30), 2, 0, 0.5, 0.5) // 15
 */
export function betweenFour(plane: Uint8Array, widthPx: number, at: number, fx: number, fy: number): number {
  const top = plane[at]! + fx * (plane[at + 1]! - plane[at]!)
  const bottom = plane[at + widthPx]! + fx * (plane[at + widthPx + 1]! - plane[at + widthPx]!)
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
  return sampleDecoded(frame, columnOf(frame.view, xPx), rowOf(frame.view, yPx), out, at)
}

/**
 * Luma and chroma at a place of the decoded picture, as `sampleColour`.
 *
 * @param frame the decoded picture
 * @param column pixel index, fractions allowed
 * @param row likewise
 * @param out three numbers Y, U, V (0-255) from index `at` on; all NaN outside the decoded picture
 * @returns true when inside
 */
export function sampleDecoded(frame: Frame, column: number, row: number, out: Float32Array, at: number): boolean {
  const { widthPx: w, heightPx: h } = frame.view
  if (!(column >= 0.5 && row >= 0.5 && column < w - 1.5 && row < h - 1.5)) {
    out[at] = out[at + 1] = out[at + 2] = NaN
    return false
  }
  const c = Math.floor(column)
  const r = Math.floor(row)
  out[at] = betweenFour(frame.y, w, r * w + c, column - c, row - r)
  // Centre of chroma sample k lies between luma columns 2k and 2k + 1.
  const halfColumn = column / 2 - 0.25
  const halfRow = row / 2 - 0.25
  const c2 = Math.floor(halfColumn)
  const r2 = Math.floor(halfRow)
  const i2 = r2 * (w >> 1) + c2
  out[at + 1] = betweenFour(frame.u, w >> 1, i2, halfColumn - c2, halfRow - r2)
  out[at + 2] = betweenFour(frame.v, w >> 1, i2, halfColumn - c2, halfRow - r2)
  return true
}

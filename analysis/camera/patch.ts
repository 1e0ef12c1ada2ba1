import type { Frame } from '../clip/frame.ts'
import { bilinear } from '../clip/sampling.ts'

/** Half width of a patch, decoded px: patches are 15 x 15. */
const PATCH_HALF_PX = 7
const SIDE = 2 * PATCH_HALF_PX + 1

/** A small textured square of a picture that can be found again in others. Positions in decoded px (indices). */
export interface Patch {
  readonly column: number
  readonly row: number
  /** Luma less its mean, SIDE x SIDE. */
  readonly luma: Float32Array
  readonly meanLuma: number
  /** Horizontal and vertical luma gradients, less their means, same layout. */
  readonly gradientX: Float32Array
  readonly gradientY: Float32Array
  /** Normal matrix of the gradients: xx, xy, yy. */
  readonly normal: readonly [number, number, number]
}

/** Where a patch was found: position in decoded px and the root mean square luma difference left over. */
export interface PatchFind {
  readonly column: number
  readonly row: number
  readonly residual: number
  readonly meanLuma: number
}

/**
 * Cuts a patch out of a picture at a whole pixel.
 *
 * @param frame the picture; @param column centre, pixel index; @param row likewise
 * @returns the patch, or null where it would leave the picture
 */
export function cutPatch(frame: Frame, column: number, row: number): Patch | null {
  const { widthPx: w, heightPx: h } = frame.view
  const m = PATCH_HALF_PX + 1
  if (column < m || row < m || column >= w - m || row >= h - m) return null
  const luma = new Float32Array(SIDE * SIDE)
  const gradientX = new Float32Array(SIDE * SIDE)
  const gradientY = new Float32Array(SIDE * SIDE)
  let k = 0
  for (let dy = -PATCH_HALF_PX; dy <= PATCH_HALF_PX; dy++) {
    let i = (row + dy) * w + column - PATCH_HALF_PX
    for (let dx = -PATCH_HALF_PX; dx <= PATCH_HALF_PX; dx++, i++, k++) {
      luma[k] = frame.y[i]!
      gradientX[k] = (frame.y[i + 1]! - frame.y[i - 1]!) / 2
      gradientY[k] = (frame.y[i + w]! - frame.y[i - w]!) / 2
    }
  }
  const meanLuma = centre(luma)
  centre(gradientX)
  centre(gradientY)
  let xx = 0
  let xy = 0
  let yy = 0
  for (let n = 0; n < k; n++) {
    xx += gradientX[n]! * gradientX[n]!
    xy += gradientX[n]! * gradientY[n]!
    yy += gradientY[n]! * gradientY[n]!
  }
  return { column, row, luma, meanLuma, gradientX, gradientY, normal: [xx, xy, yy] }
}

/**
 * Finds a patch in another picture near a guess: inverse compositional translation (Baker & Matthews 2004) on luma
 * less its mean, so a change of exposure does not matter.
 *
 * @param guessColumn pixel index, within about 4 px of the truth; @param guessRow likewise
 * @param frame the decoded picture
 * @returns null when it runs out of the picture or does not settle within 8 px
 */
export function findPatch(patch: Patch, frame: Frame, guessColumn: number, guessRow: number): PatchFind | null {
  const { widthPx: w, heightPx: h } = frame.view
  const [xx, xy, yy] = patch.normal
  const det = xx * yy - xy * xy
  if (det <= 0) return null
  let column = guessColumn
  let row = guessRow
  const values = new Float32Array(SIDE * SIDE)
  for (let iteration = 0; iteration < 8; iteration++) {
    if (!sampleSquare(frame, column, row, values, w, h)) return null
    const meanLuma = centre(values)
    let bx = 0
    let by = 0
    let ss = 0
    for (let n = 0; n < values.length; n++) {
      const d = values[n]! - patch.luma[n]!
      bx += d * patch.gradientX[n]!
      by += d * patch.gradientY[n]!
      ss += d * d
    }
    const stepX = (yy * bx - xy * by) / det
    const stepY = (xx * by - xy * bx) / det
    column -= stepX
    row -= stepY
    if (Math.abs(column - guessColumn) > 8 || Math.abs(row - guessRow) > 8) return null
    if (stepX * stepX + stepY * stepY < 4e-4) return { column, row, residual: Math.sqrt(ss / values.length), meanLuma }
  }
  return null
}

/**
 * Finds a patch over a wider range by comparing it at every second pixel: for jerks that {@link findPatch} cannot bridge.
 *
 * @param reachPx how far to look, decoded px
 * @param column pixel index
 * @param frame the decoded picture
 * @param row pixel index
 * @returns the best place (2 px grid) and its residual, or null outside the picture
 */
export function searchPatch(
  patch: Patch,
  frame: Frame,
  column: number,
  row: number,
  reachPx: number,
): PatchFind | null {
  const { widthPx: w, heightPx: h } = frame.view
  let best: PatchFind | null = null
  for (let dy = -reachPx; dy <= reachPx; dy += 2) {
    for (let dx = -reachPx; dx <= reachPx; dx += 2) {
      const c = Math.round(column) + dx
      const r = Math.round(row) + dy
      if (c < SIDE || r < SIDE || c >= w - SIDE || r >= h - SIDE) continue
      let sum = 0
      let squares = 0
      let count = 0
      for (let y = 0; y < SIDE; y += 2) {
        let i = (r + y - PATCH_HALF_PX) * w + c - PATCH_HALF_PX
        for (let x = 0; x < SIDE; x += 2, i += 2) {
          const d = frame.y[i]! - patch.luma[y * SIDE + x]!
          sum += d
          squares += d * d
          count++
        }
      }
      const residual = Math.sqrt(Math.max(0, squares / count - (sum / count) ** 2))
      if (best === null || residual < best.residual)
        best = { column: c, row: r, residual, meanLuma: patch.meanLuma + sum / count }
    }
  }
  return best
}

function sampleSquare(frame: Frame, column: number, row: number, out: Float32Array, w: number, h: number): boolean {
  const c = Math.floor(column) - PATCH_HALF_PX
  const r = Math.floor(row) - PATCH_HALF_PX
  if (!(c >= 0 && r >= 0 && c + SIDE < w && r + SIDE < h)) return false
  const fx = column - Math.floor(column)
  const fy = row - Math.floor(row)
  const a = (1 - fx) * (1 - fy)
  const b = fx * (1 - fy)
  const d = (1 - fx) * fy
  const e = fx * fy
  const y = frame.y
  let k = 0
  for (let dy = 0; dy < SIDE; dy++) {
    let i = (r + dy) * w + c
    for (let dx = 0; dx < SIDE; dx++, i++, k++) {
      out[k] = a * y[i]! + b * y[i + 1]! + d * y[i + w]! + e * y[i + w + 1]!
    }
  }
  return true
}

function centre(values: Float32Array): number {
  let sum = 0
  for (let i = 0; i < values.length; i++) sum += values[i]!
  const mean = sum / values.length
  for (let i = 0; i < values.length; i++) values[i]! -= mean
  return mean
}

/**
 * Picks well-spread textured places: the best corner (Shi & Tomasi 1994, smaller eigenvalue of the gradient matrix)
 * of each cell of a grid, if it is textured enough.
 *
 * @param allowed says whether a patch may stand at decoded px (column, row)
 * @param cells how many cells across the wider side
 * @param frame the decoded picture
 * @returns at most one patch a cell, in no order
 */
export function pickPatches(frame: Frame, allowed: (column: number, row: number) => boolean, cells: number): Patch[] {
  const { widthPx: w, heightPx: h } = frame.view
  const cell = Math.max(2 * SIDE, Math.round(Math.max(w, h) / cells))
  const patches: Patch[] = []
  for (let top = SIDE; top + SIDE < h; top += cell) {
    for (let left = SIDE; left + SIDE < w; left += cell) {
      let best: Patch | null = null
      let bestScore = 0
      for (let row = top; row < Math.min(top + cell, h - SIDE); row += 4) {
        for (let column = left; column < Math.min(left + cell, w - SIDE); column += 4) {
          if (!allowed(column, row)) continue
          // A quick look at the luma range saves the full corner measure on flat ground.
          const range =
            Math.abs(bilinear(frame.y, w, h, column - 4, row - 4) - bilinear(frame.y, w, h, column + 4, row + 4)) +
            Math.abs(bilinear(frame.y, w, h, column + 4, row - 4) - bilinear(frame.y, w, h, column - 4, row + 4))
          if (range < 6) continue
          const patch = cutPatch(frame, column, row)
          if (patch === null) continue
          const score = smallerEigenvalue(patch.normal)
          if (score > bestScore) {
            bestScore = score
            best = patch
          }
        }
      }
      // Mean squared gradient along the weaker direction of at least (3 grey levels / px)^2.
      if (best !== null && bestScore / (SIDE * SIDE) > 9) patches.push(best)
    }
  }
  return patches
}

function smallerEigenvalue([xx, xy, yy]: readonly [number, number, number]): number {
  return (xx + yy - Math.hypot(xx - yy, 2 * xy)) / 2
}

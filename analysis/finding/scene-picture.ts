import type { Frame } from '../clip/frame.ts'

/** A picture to compare with: colours at the size of the frames it was made from, chroma at half size as in `Frame`. */
export interface ScenePicture {
  readonly widthPx: number
  readonly heightPx: number
  readonly y: Float32Array
  readonly u: Float32Array
  readonly v: Float32Array
}

/** Colour differences up to this are noise, and from `SURE` on they are sure, grey levels. */
const NOISE = 8
const SURE = 24
/** Chroma differs less than luma between things of different colour. */
const CHROMA_WEIGHT = 1.5

/**
 * What the scene looks like in most of some frames: the median of each pixel, so that what is there only briefly goes.
 *
 * @param frames of one view, at least one
 * @returns a picture of the frames' size
 */
export function medianPicture(frames: readonly Frame[]): ScenePicture {
  const { widthPx, heightPx } = frames[0]!.view
  const of = (plane: 'y' | 'u' | 'v') => medians(frames.map((frame) => frame[plane]))
  return { widthPx, heightPx, y: of('y'), u: of('u'), v: of('v') }
}

function medians(planes: readonly Uint8Array[]): Float32Array {
  const values = new Uint8Array(planes.length)
  return Float32Array.from(planes[0]!, (_, i) => {
    for (let k = 0; k < planes.length; k++) values[k] = planes[k]![i]!
    return values.sort()[values.length >> 1]!
  })
}

/**
 * How far two pictures differ in colour at each pixel.
 *
 * @param a one picture; `b` another one of the same size
 * @param b see `a`
 * @returns grey levels, row by row
 */
export function difference(a: ScenePicture, b: ScenePicture): Float32Array {
  const { widthPx, heightPx } = a
  const halfWidth = widthPx >> 1
  const out = new Float32Array(widthPx * heightPx)
  for (let row = 0; row < heightPx; row++) {
    for (let column = 0; column < widthPx; column++) {
      const i = row * widthPx + column
      const j = (row >> 1) * halfWidth + (column >> 1)
      const du = CHROMA_WEIGHT * (a.u[j]! - b.u[j]!)
      const dv = CHROMA_WEIGHT * (a.v[j]! - b.v[j]!)
      out[i] = Math.hypot(a.y[i]! - b.y[i]!, du, dv)
    }
  }
  return out
}

/**
 * Differences as a share of certainty.
 *
 * @param levels from `difference`, grey levels
 * @returns 0 for noise up to 1 for a sure change, same layout
 */
export function changed(levels: Float32Array): Float32Array {
  return levels.map((level) => Math.min(1, Math.max(0, (level - NOISE) / (SURE - NOISE))))
}

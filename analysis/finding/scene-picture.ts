import { multiply3 } from '../camera/rotation.ts'
import type { Frame, View } from '../clip/frame.ts'
import { bilinear, planeFromImage } from '../clip/sampling.ts'
import { invertHomography } from '../geometry/homography.ts'

/** A picture to compare with, chroma at half size as in `Frame`; NaN where nothing is known. */
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
 * A frame as a picture of the reference frame's view, so that the same place lies at the same pixel in all.
 *
 * @param frame any view; `reference` is the view that the picture gets
 * @param reference see `frame`
 * @param frameFromReference from image px of the reference frame to image px of this one; null: the camera stood still
 * and both views are the same
 * @returns NaN where the frame does not show the place
 */
export function pictureOf(frame: Frame, reference: View, frameFromReference: Float64Array | null): ScenePicture {
  const { widthPx, heightPx } = reference
  if (frameFromReference === null)
    return {
      widthPx,
      heightPx,
      y: Float32Array.from(frame.y),
      u: Float32Array.from(frame.u),
      v: Float32Array.from(frame.v),
    }
  const of = (plane: 'y' | 'u' | 'v', sizePx: 1 | 2) => {
    const imageFromPlane = invertHomography(planeFromImage(reference, sizePx))
    const planeFromPlane = multiply3(
      planeFromImage(frame.view, sizePx),
      multiply3(frameFromReference, imageFromPlane ?? frameFromReference),
    )
    const [width, height] = [widthPx / sizePx, heightPx / sizePx].map(Math.floor) as [number, number]
    const [fromWidth, fromHeight] = [frame.view.widthPx / sizePx, frame.view.heightPx / sizePx].map(Math.floor) as [
      number,
      number,
    ]
    const [a, b, c, d, e, f, g, h, i] = planeFromPlane as unknown as [
      number,
      number,
      number,
      number,
      number,
      number,
      number,
      number,
      number,
    ]
    const out = new Float32Array(width * height)
    for (let row = 0, k = 0; row < height; row++) {
      for (let column = 0; column < width; column++, k++) {
        const depth = g * column + h * row + i
        out[k] = bilinear(
          frame[plane],
          fromWidth,
          fromHeight,
          (a * column + b * row + c) / depth,
          (d * column + e * row + f) / depth,
        )
      }
    }
    return out
  }
  return { widthPx, heightPx, y: of('y', 1), u: of('u', 2), v: of('v', 2) }
}

/**
 * What the scene looks like in most of some pictures: the median of each pixel, so that what is there only briefly goes.
 *
 * @param pictures of one view, at least one
 * @returns a picture of their size; NaN only where all are
 */
export function medianPicture(pictures: readonly ScenePicture[]): ScenePicture {
  const [first] = pictures as readonly [ScenePicture, ...ScenePicture[]]
  if (pictures.length === 1) return first
  const of = (plane: 'y' | 'u' | 'v') => medians(pictures.map((picture) => picture[plane]))
  return { ...first, y: of('y'), u: of('u'), v: of('v') }
}

function medians(planes: readonly Float32Array[]): Float32Array {
  const values = new Float32Array(planes.length)
  return planes[0]!.map((_, i) => {
    // Insertion sort: there are few.
    let count = 0
    for (const plane of planes) {
      const value = plane[i]!
      if (Number.isNaN(value)) continue
      let k = count++
      for (; k > 0 && values[k - 1]! > value; k--) values[k] = values[k - 1]!
      values[k] = value
    }
    return count === 0 ? NaN : values[count >> 1]!
  })
}

/**
 * How far two pictures differ in colour at each pixel.
 *
 * @param a one picture; `b` another one of the same size
 * @param b see `a`
 * @returns grey levels, row by row; 0 where one of them is not known
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
      const dy = a.y[i]! - b.y[i]!
      const squares = dy * dy + du * du + dv * dv
      out[i] = squares > 0 ? Math.sqrt(squares) : 0
    }
  }
  return out
}

/**
 * How far a picture differs from all that lies within a pixel of the same place in another one: where two pictures lie a
 * part of a pixel off each other, edges of things that stay would seem to change.
 *
 * @param a one picture; `b` another one of the same size
 * @param b see `a`
 * @returns grey levels, row by row; 0 where one of them is not known
 */
export function differenceBeyondPixel(a: ScenePicture, b: ScenePicture): Float32Array {
  const levels = difference(a, b)
  const { widthPx, heightPx } = a
  const offRange = (one: Float32Array, other: Float32Array, i: number): number => {
    let [low, high] = [Infinity, -Infinity]
    for (let dr = -widthPx; dr <= widthPx; dr += widthPx) {
      for (let k = i + dr - 1; k <= i + dr + 1; k++) {
        const value = other[k]!
        if (value < low) low = value
        if (value > high) high = value
      }
    }
    return Math.max(0, one[i]! - high, low - one[i]!)
  }
  const out = new Float32Array(levels.length)
  for (let row = 1; row < heightPx - 1; row++) {
    for (let i = row * widthPx + 1; i < (row + 1) * widthPx - 1; i++) {
      const level = levels[i]!
      if (level <= NOISE) continue
      const dy = Math.abs(a.y[i]! - b.y[i]!)
      const left = Math.min(offRange(a.y, b.y, i), offRange(b.y, a.y, i))
      out[i] = Math.sqrt(Math.max(0, level * level - dy * dy) + left * left)
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

import { mapImage } from '../camera/camera-motion.ts'
import type { Frame } from '../clip/frame.ts'
import { bilinear, columnOf, rowOf } from '../clip/sampling.ts'
import type { ImagePx } from '../geometry/points.ts'

/** Less contrast than this is noise, which resembles anything, grey levels. */
const LEAST_SD = 2

/**
 * How alike two pictures look around a place: the correlation of their luma over a square (normalised, so that exposure
 * does not matter).
 *
 * @param from one picture; `at` is a place in it, full-resolution image px
 * @param at see `from`
 * @param to the other picture
 * @param toFromFrom homography from image px of `from` to image px of `to`
 * @param halfPx half side of the square, full-resolution image px
 * @returns -1 to 1; null where the square leaves either picture or shows nothing
 */
export function likeness(from: Frame, at: ImagePx, to: Frame, toFromFrom: Float64Array, halfPx: number): number | null {
  const stepPx = 1 / from.view.scale
  const steps = Math.max(3, Math.round(halfPx / stepPx))
  let n = 0
  let a = 0
  let b = 0
  let aa = 0
  let ab = 0
  let bb = 0
  for (let row = -steps; row <= steps; row++) {
    for (let column = -steps; column <= steps; column++) {
      const p = { xPx: at.xPx + column * stepPx, yPx: at.yPx + row * stepPx }
      const u = lumaAt(from, p)
      const v = lumaAt(to, mapImage(toFromFrom, p))
      if (Number.isNaN(u) || Number.isNaN(v)) continue
      n++
      a += u
      b += v
      aa += u * u
      ab += u * v
      bb += v * v
    }
  }
  if (n < 0.8 * (2 * steps + 1) ** 2) return null
  const sdA = Math.sqrt(Math.max(0, aa / n - (a / n) ** 2))
  const sdB = Math.sqrt(Math.max(0, bb / n - (b / n) ** 2))
  if (sdA < LEAST_SD || sdB < LEAST_SD) return null
  return (ab / n - (a / n) * (b / n)) / (sdA * sdB)
}

function lumaAt({ y, view }: Frame, p: ImagePx): number {
  return bilinear(y, view.widthPx, view.heightPx, columnOf(view, p.xPx), rowOf(view, p.yPx))
}

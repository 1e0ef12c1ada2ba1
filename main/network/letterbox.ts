import type { PictureBox, RgbPicture } from './animal-finder.ts'

/** How a picture lies in the square that the network takes: `squarePx = picturePx * scale + offset`. */
export interface Letterbox {
  /** `sizePx * sizePx * 3` values 0-255, row by row; black beside the picture. */
  readonly square: Float32Array
  readonly scale: number
  readonly offsetXPx: number
  readonly offsetYPx: number
}

/** Fits a whole picture into a square without changing its shape, centred, smoothed where it shrinks. */
export function letterbox(picture: RgbPicture, sizePx: number): Letterbox {
  const scale = sizePx / Math.max(picture.widthPx, picture.heightPx)
  const columns = weights(picture.widthPx, Math.max(1, Math.round(picture.widthPx * scale)))
  const rows = weights(picture.heightPx, Math.max(1, Math.round(picture.heightPx * scale)))
  const offsetXPx = Math.floor((sizePx - columns.length) / 2)
  const offsetYPx = Math.floor((sizePx - rows.length) / 2)

  const narrow = new Float32Array(picture.heightPx * columns.length * 3)
  for (let y = 0, target = 0; y < picture.heightPx; y++) {
    for (const { first, shares } of columns) {
      let source = (y * picture.widthPx + first) * 3
      let red = 0
      let green = 0
      let blue = 0
      for (const share of shares) {
        red += share * picture.rgb[source++]!
        green += share * picture.rgb[source++]!
        blue += share * picture.rgb[source++]!
      }
      narrow[target++] = red
      narrow[target++] = green
      narrow[target++] = blue
    }
  }

  const square = new Float32Array(sizePx * sizePx * 3)
  const rowLength = columns.length * 3
  for (const [y, { first, shares }] of rows.entries()) {
    const target = ((y + offsetYPx) * sizePx + offsetXPx) * 3
    for (const [k, share] of shares.entries()) {
      const source = (first + k) * rowLength
      for (let i = 0; i < rowLength; i++) square[target + i]! += share * narrow[source + i]!
    }
  }
  return { square, scale, offsetXPx, offsetYPx }
}

/** A box in the square as a box in the picture, cut at the picture's border. */
export function boxFromSquare(
  box: PictureBox,
  { scale, offsetXPx, offsetYPx }: Letterbox,
  picture: RgbPicture,
): PictureBox {
  const x = (squarePx: number): number => Math.min(Math.max((squarePx - offsetXPx) / scale, 0), picture.widthPx)
  const y = (squarePx: number): number => Math.min(Math.max((squarePx - offsetYPx) / scale, 0), picture.heightPx)
  return { x0Px: x(box.x0Px), y0Px: y(box.y0Px), x1Px: x(box.x1Px), y1Px: y(box.y1Px) }
}

/** Which source pixels make up one pixel of a resized line, and with which shares (they add up to 1). */
interface Mixture {
  readonly first: number
  readonly shares: readonly number[]
}

/** Linear interpolation where a line grows; a triangle as wide as two target pixels where it shrinks. */
function weights(sourcePx: number, targetPx: number): Mixture[] {
  const step = sourcePx / targetPx
  const reach = Math.max(step, 1)
  return Array.from({ length: targetPx }, (_, target) => {
    const centre = (target + 0.5) * step
    // Source pixel i has its centre at i + 0.5; those at a distance of `reach` or more have no share.
    const first = Math.max(0, Math.floor(centre - reach - 0.5) + 1)
    const last = Math.min(sourcePx - 1, Math.ceil(centre + reach - 0.5) - 1)
    const raw = Array.from({ length: last - first + 1 }, (_, k) => 1 - Math.abs(first + k + 0.5 - centre) / reach)
    const sum = raw.reduce((a, b) => a + b, 0)
    return { first, shares: raw.map((share) => share / sum) }
  })
}

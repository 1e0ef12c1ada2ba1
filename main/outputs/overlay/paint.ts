import type { Frame } from '../../../analysis/clip/frame.ts'

/** A colour in the picture's own terms: 8 bit, video range. */
export interface Yuv {
  readonly y: number
  readonly u: number
  readonly v: number
}

/** A point in the decoded picture's own px, centre of the first pixel at (0.5, 0.5). */
export type Spot = readonly [xPx: number, yPx: number]

/** Converts a colour as screens name it (0-255 each) for pictures of a size; large ones use the newer standard. */
export function yuvFrom(red: number, green: number, blue: number, isHighDefinition: boolean): Yuv {
  const [redShare, blueShare] = isHighDefinition ? [0.2126, 0.0722] : [0.299, 0.114]
  const luma = (redShare * red + (1 - redShare - blueShare) * green + blueShare * blue) / 255
  return {
    y: 16 + 219 * luma,
    u: 128 + (112 * (blue / 255 - luma)) / (1 - blueShare),
    v: 128 + (112 * (red / 255 - luma)) / (1 - redShare),
  }
}

/** A line with round ends through some points, its borders smoothed. */
export function paintLine(frame: Frame, points: readonly Spot[], widthPx: number, colour: Yuv): void {
  points.slice(1).forEach((to, k) => {
    const from = points[k]!
    paint(frame, boxAround([from, to], widthPx / 2), colour, 1, (x, y) => distanceToLine(x, y, from, to) - widthPx / 2)
  })
}

export function paintDisc(frame: Frame, centre: Spot, radiusPx: number, colour: Yuv): void {
  paint(frame, boxAround([centre], radiusPx), colour, 1, (x, y) => Math.hypot(x - centre[0], y - centre[1]) - radiusPx)
}

export function paintRing(frame: Frame, centre: Spot, radiusPx: number, widthPx: number, colour: Yuv): void {
  const fromRing = (x: number, y: number) => Math.abs(Math.hypot(x - centre[0], y - centre[1]) - radiusPx)
  paint(frame, boxAround([centre], radiusPx + widthPx / 2), colour, 1, (x, y) => fromRing(x, y) - widthPx / 2)
}

/** A full triangle; its corners in any order. */
export function paintTriangle(frame: Frame, corners: readonly [Spot, Spot, Spot], colour: Yuv): void {
  const [a, b, c] = corners
  const turn = Math.sign((b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]))
  const outside = (x: number, y: number, from: Spot, to: Spot) =>
    (-turn * ((to[0] - from[0]) * (y - from[1]) - (to[1] - from[1]) * (x - from[0]))) /
    Math.hypot(to[0] - from[0], to[1] - from[1])
  paint(frame, boxAround(corners, 0), colour, 1, (x, y) =>
    Math.max(outside(x, y, a, b), outside(x, y, b, c), outside(x, y, c, a)),
  )
}

/** A box with rounded corners that lets some of the picture through. */
export function paintPanel(
  frame: Frame,
  [left, top]: Spot,
  [right, bottom]: Spot,
  cornerPx: number,
  colour: Yuv,
  opacity: number,
): void {
  const [middleX, middleY] = [(left + right) / 2, (top + bottom) / 2]
  const [halfX, halfY] = [(right - left) / 2 - cornerPx, (bottom - top) / 2 - cornerPx]
  paint(frame, { left, top, right, bottom }, colour, opacity, (x, y) => {
    const overX = Math.max(Math.abs(x - middleX) - halfX, 0)
    const overY = Math.max(Math.abs(y - middleY) - halfY, 0)
    return Math.hypot(overX, overY) - cornerPx
  })
}

interface Box {
  readonly left: number
  readonly top: number
  readonly right: number
  readonly bottom: number
}

/** Signed distance to a shape's border, px of the luma plane, negative inside. */
type Shape = (xPx: number, yPx: number) => number

/** Mixes a colour into all pixels that a shape covers, as far as it covers them. */
function paint(frame: Frame, box: Box, colour: Yuv, opacity: number, shape: Shape): void {
  const { widthPx, heightPx } = frame.view
  paintPlane(frame.y, widthPx, heightPx, 1, box, colour.y, opacity, shape)
  paintPlane(frame.u, widthPx / 2, heightPx / 2, 2, box, colour.u, opacity, shape)
  paintPlane(frame.v, widthPx / 2, heightPx / 2, 2, box, colour.v, opacity, shape)
}

function paintPlane(
  plane: Uint8Array,
  widthPx: number,
  heightPx: number,
  stepPx: number,
  box: Box,
  value: number,
  opacity: number,
  shape: Shape,
): void {
  const first = (px: number) => Math.max(0, Math.floor(px / stepPx) - 1)
  const firstColumn = first(box.left)
  const endColumn = Math.min(widthPx, Math.ceil(box.right / stepPx) + 1)
  const endRow = Math.min(heightPx, Math.ceil(box.bottom / stepPx) + 1)
  for (let row = first(box.top); row < endRow; row++) {
    for (let column = firstColumn; column < endColumn; column++) {
      const distance = shape((column + 0.5) * stepPx, (row + 0.5) * stepPx) / stepPx
      const cover = opacity * Math.min(Math.max(0.5 - distance, 0), 1)
      if (cover === 0) continue
      const at = row * widthPx + column
      plane[at] = Math.round(plane[at]! + cover * (value - plane[at]!))
    }
  }
}

function boxAround(spots: readonly Spot[], marginPx: number): Box {
  const xs = spots.map(([x]) => x)
  const ys = spots.map(([, y]) => y)
  return {
    left: Math.min(...xs) - marginPx,
    right: Math.max(...xs) + marginPx,
    top: Math.min(...ys) - marginPx,
    bottom: Math.max(...ys) + marginPx,
  }
}

function distanceToLine(x: number, y: number, [fromX, fromY]: Spot, [toX, toY]: Spot): number {
  const [alongX, alongY] = [toX - fromX, toY - fromY]
  const squared = alongX * alongX + alongY * alongY
  const part = squared === 0 ? 0 : Math.min(Math.max(((x - fromX) * alongX + (y - fromY) * alongY) / squared, 0), 1)
  return Math.hypot(x - fromX - part * alongX, y - fromY - part * alongY)
}

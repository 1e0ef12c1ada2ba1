import type { Frame, View } from '../../../analysis/clip/frame.ts'
import type { ImagePx } from '../../../analysis/geometry/points.ts'
import type { FrameDrawing, PawMark } from '../../../analysis/drawing/frame-drawing.ts'
import { paintText, textWidthPx } from './lettering.ts'
import { paintDisc, paintLine, paintPanel, paintRing, paintTriangle, type Spot, type Yuv, yuvFrom } from './paint.ts'

/** The colours of a drawing, in the picture's own terms. */
export interface Inks {
  readonly casing: Yuv
  readonly edge: Yuv
  readonly zone: Yuv
  readonly front: Yuv
  readonly hind: Yuv
}

/** The same colours as in the report, for pictures of a size. */
export function inksFor(isHighDefinition: boolean): Inks {
  const ink = (red: number, green: number, blue: number) => yuvFrom(red, green, blue, isHighDefinition)
  return {
    casing: ink(16, 32, 28),
    edge: ink(255, 255, 255),
    zone: ink(255, 194, 71),
    front: ink(240, 121, 74),
    hind: ink(95, 224, 205),
  }
}

/** Which parts of a drawing are painted. */
export interface Shows {
  readonly plank: boolean
  readonly zones: boolean
  readonly paws: boolean
  readonly dog: boolean
}

const EVERYTHING: Shows = { plank: true, zones: true, paws: true, dog: true }

/** Draws the dog's outline, plank, zones, pivot and planted paws on a decoded frame, thin enough not to hide the dog. */
export function paintDrawing(frame: Frame, drawing: FrameDrawing, inks: Inks, shows: Shows = EVERYTHING): void {
  const { view } = frame
  const spots = (points: readonly ImagePx[]) => points.map((point) => spotOf(point, view))
  const unitPx = unitOf(view)
  if (shows.dog && drawing.dog !== null) paintOutline(frame, spots(drawing.dog), unitPx, inks)
  const edges = [
    [drawing.upZoneEdge, inks.zone],
    [drawing.middleEdge, inks.edge],
    [drawing.downZoneEdge, inks.zone],
  ] as const
  const borders = [drawing.upBorder, drawing.downBorder]
  const drawnEdges = shows.plank ? edges : []
  const drawnBorders = shows.zones ? borders : []
  for (const [edge] of drawnEdges) paintLine(frame, spots(edge), 0.44 * unitPx, inks.casing)
  for (const border of drawnBorders) paintLine(frame, spots(border), 0.44 * unitPx, inks.casing)
  for (const [edge, ink] of drawnEdges) paintLine(frame, spots(edge), 0.2 * unitPx, ink)
  for (const border of drawnBorders) paintLine(frame, spots(border), 0.2 * unitPx, inks.edge)
  if (shows.plank) paintPivot(frame, spots(drawing.pivot), unitPx, inks)
  for (const paw of shows.paws ? drawing.paws : []) paintPaw(frame, paw, unitPx, inks)
}

/** A closed line. */
function paintOutline(frame: Frame, line: readonly Spot[], unitPx: number, inks: Inks): void {
  const closed = [...line, ...line.slice(0, 1)]
  paintLine(frame, closed, 0.34 * unitPx, inks.casing)
  paintLine(frame, closed, 0.16 * unitPx, inks.edge)
}

/** A line of text in a dim panel at the lower left. */
export function paintCaption(frame: Frame, text: string, inks: Inks): void {
  const unitPx = unitOf(frame.view)
  const heightPx = 1.6 * unitPx
  const left = 2.4 * unitPx
  const base = frame.view.heightPx - 2.6 * unitPx
  const right = left + textWidthPx(text, heightPx)
  const from: Spot = [left - 1.2 * unitPx, base - heightPx - 1.1 * unitPx]
  paintPanel(frame, from, [right + 1.2 * unitPx, base + 1.3 * unitPx], 0.8 * unitPx, inks.casing, 0.72)
  paintText(frame, text, [left, base], heightPx, 0.24 * unitPx, inks.edge)
}

/** A hundredth of the picture's longer side: the measure of all strokes. */
function unitOf(view: View): number {
  return Math.max(view.widthPx, view.heightPx) / 100
}

function spotOf({ xPx, yPx }: ImagePx, view: View): Spot {
  return [(xPx - view.originXPx) * view.scale, (yPx - view.originYPx) * view.scale]
}

/** A small triangle that hangs from the plank's edge. */
function paintPivot(frame: Frame, [top, towards]: readonly Spot[], unitPx: number, inks: Inks): void {
  if (top === undefined || towards === undefined) return
  const length = Math.hypot(towards[0] - top[0], towards[1] - top[1]) || 1
  const [downX, downY] = [(towards[0] - top[0]) / length, (towards[1] - top[1]) / length]
  const corner = (downPx: number, sidePx: number): Spot => [
    top[0] + downX * downPx - downY * sidePx,
    top[1] + downY * downPx + downX * sidePx,
  ]
  const triangle = (sizePx: number): [Spot, Spot, Spot] => {
    const moreFor = sizePx - 2 * unitPx
    return [corner(-moreFor, 0), corner(sizePx, sizePx / 2), corner(sizePx, -sizePx / 2)]
  }
  paintTriangle(frame, triangle(2.4 * unitPx), inks.casing)
  paintTriangle(frame, triangle(2 * unitPx), inks.edge)
}

/** Front paws are full discs, hind paws rings, unknown ones small rings. */
function paintPaw(frame: Frame, { at, limb }: PawMark, unitPx: number, inks: Inks): void {
  const centre = spotOf(at, frame.view)
  switch (limb) {
    case 'front':
      paintDisc(frame, centre, 0.85 * unitPx, inks.edge)
      paintDisc(frame, centre, 0.65 * unitPx, inks.front)
      return
    case 'hind':
      paintRing(frame, centre, 0.7 * unitPx, 0.55 * unitPx, inks.casing)
      paintRing(frame, centre, 0.7 * unitPx, 0.28 * unitPx, inks.hind)
      return
    case 'unknown':
      paintRing(frame, centre, 0.5 * unitPx, 0.45 * unitPx, inks.casing)
      paintRing(frame, centre, 0.5 * unitPx, 0.2 * unitPx, inks.edge)
  }
}

import type { View } from '../../analysis/clip/frame.ts'
import type { ImagePx } from '../../analysis/geometry/points.ts'
import type { FrameDrawing, PawMark, Polyline } from '../../analysis/drawing/frame-drawing.ts'
import { fixed } from '../../analysis/words/in-words.ts'
import { type Markup, markup } from './markup.ts'

/** A real frame of the clip with the measurement to be drawn on it. */
export interface Still {
  /** What it shows: "The board begins to tip". */
  readonly caption: string
  readonly ptsS: number
  readonly frameIndex: number
  readonly boardAngleDeg: number | null
  readonly jpeg: Uint8Array
  /** Where the JPEG lies in the full picture. */
  readonly view: View
  /** null where the plank was not followed in this frame. */
  readonly drawing: FrameDrawing | null
}

/** The frame with the drawing over it as lines of its own, so that they stay sharp at any size. */
export function stillFigure(still: Still): Markup {
  const { view } = still
  const [widthPx, heightPx] = [view.widthPx / view.scale, view.heightPx / view.scale]
  const jpeg = `data:image/jpeg;base64,${Buffer.from(still.jpeg).toString('base64')}`
  const facts = [
    `${fixed(still.ptsS, 3)} s`,
    `frame ${still.frameIndex}`,
    still.boardAngleDeg === null ? 'board not followed here' : `board ${fixed(still.boardAngleDeg, 1)}°`,
  ].join('  ·  ')
  return markup`<figure class="still">
    <svg viewBox="${view.originXPx} ${view.originYPx} ${widthPx} ${heightPx}" role="img" aria-label="${still.caption}">
      <image href="${jpeg}" x="${view.originXPx}" y="${view.originYPx}" width="${widthPx}" height="${heightPx}" preserveAspectRatio="none"/>
      ${still.drawing === null ? null : drawn(still.drawing, widthPx / 100)}
    </svg>
    <figcaption><b>${still.caption}</b><span class="facts">${facts}</span></figcaption>
  </figure>`
}

function drawn(drawing: FrameDrawing, unitPx: number): Markup {
  const { upZoneEdge, middleEdge, downZoneEdge, upBorder, downBorder, pivot, paws, dog } = drawing
  const [top, tip] = pivot
  return markup`
    ${dog === null ? null : closed(dog)}
    ${polyline('casing', [...upZoneEdge, ...middleEdge, ...downZoneEdge])}
    ${polyline('edge-zone', upZoneEdge)}${polyline('edge-middle', middleEdge)}${polyline('edge-zone', downZoneEdge)}
    ${[upBorder, downBorder].map((border) => markup`${polyline('casing', border)}${polyline('border', border)}`)}
    <path class="pivot-mark" d="M${top.xPx},${top.yPx} ${triangleTo(top, tip, unitPx)}"/>
    ${paws.map((paw) => pawMark(paw, unitPx))}`
}

/** The dog's outline. */
function closed(dog: Polyline): Markup {
  const line = [...dog, ...dog.slice(0, 1)]
  return markup`${polyline('casing', line)}${polyline('edge-dog', line)}`
}

function polyline(name: string, points: Polyline): Markup {
  const corners = points.map(({ xPx, yPx }) => `${xPx.toFixed(1)},${yPx.toFixed(1)}`).join(' ')
  return markup`<polyline class="${name}" points="${corners}"/>`
}

/** A small triangle that hangs from the plank's edge at the pivot. */
function triangleTo(top: ImagePx, tip: ImagePx, unitPx: number): Markup {
  const length = Math.hypot(tip.xPx - top.xPx, tip.yPx - top.yPx) || 1
  const [downX, downY] = [(tip.xPx - top.xPx) / length, (tip.yPx - top.yPx) / length]
  const [longPx, halfPx] = [2.6 * unitPx, 1.3 * unitPx]
  const [endX, endY] = [top.xPx + downX * longPx, top.yPx + downY * longPx]
  return markup`L${endX - downY * halfPx},${endY + downX * halfPx} L${endX + downY * halfPx},${endY - downX * halfPx} Z`
}

/** Front paws are full discs, hind paws rings. */
function pawMark({ at, limb }: PawMark, unitPx: number): Markup {
  return markup`<circle class="paw-casing" cx="${at.xPx}" cy="${at.yPx}" r="${unitPx}"/><circle class="paw-${limb}" cx="${at.xPx}" cy="${at.yPx}" r="${unitPx}"/>`
}

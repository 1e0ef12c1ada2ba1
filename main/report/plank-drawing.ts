import type { Estimate } from '../../analysis/estimate.ts'
import type { Ride } from '../../analysis/ride/ride.ts'
import type { BoardPicture } from '../measuring/measured-ride.ts'
import { fixed, isMeasured } from '../../analysis/words/in-words.ts'
import { type Markup, markup } from './markup.ts'

const widthPx = 560
const heightPx = 244
const groundYPx = 214
/** The plank is drawn a little thicker than it is, to be seen. */
const plankPx = 8

/**
 * The board from the side as the ride began to tip it: plank with its zones, lead paw with its interval, body centre,
 * and how far the lead paw was past the pivot. Travel is left to right, whatever the clip shows.
 */
export function plankDrawing(ride: Ride, picture: BoardPicture): Markup {
  const { lengthM, contactM } = picture.board
  const camera = picture.calibration.best
  const scale = (widthPx - 44) / lengthM
  const axisYPx = groundYPx - camera.axisHeightM * scale
  const toDeg = (rad: number) => (rad * 180) / Math.PI
  // Along the plank from the pivot, y up from the top surface: inside a group that is turned about the axis.
  const along = (alongM: number) => (alongM - lengthM / 2) * scale
  const topYPx = -camera.axisBelowTopM * scale
  const part = (fromM: number, toM: number, name: string) =>
    markup`<rect class="${name}" x="${along(fromM)}" y="${topYPx}" width="${along(toM) - along(fromM)}" height="${plankPx}"/>`
  const turned = (angleRad: number, name: string, content: readonly Markup[]) =>
    markup`<g class="${name}" transform="translate(${widthPx / 2} ${axisYPx}) rotate(${toDeg(angleRad)})">${content}</g>`
  const { leadPawAtTipM: lead, bodyAtTipM: body } = ride.measures
  return markup`<svg class="plank-drawing" viewBox="0 0 ${widthPx} ${heightPx}" role="img" aria-label="The board from the side as it began to tip">
    <line class="ground" x1="6" x2="${widthPx - 6}" y1="${groundYPx}" y2="${groundYPx}"/>
    <path class="base" d="M${widthPx / 2},${axisYPx} l${-0.23 * scale},${groundYPx - axisYPx} h${0.46 * scale} Z"/>
    ${turned(camera.groundedAngleRad, 'landed', [part(0, lengthM, 'outline')])}
    ${turned(camera.restAngleRad, 'rest', [
      part(0, contactM, 'zone'),
      part(contactM, lengthM - contactM, 'middle'),
      part(lengthM - contactM, lengthM, 'zone'),
      leadPaw(lead, along, topYPx),
      bodyCentre(body, along, topYPx),
      distance(lead, lengthM, along, topYPx),
    ])}
    <circle class="axis-dot" cx="${widthPx / 2}" cy="${axisYPx}" r="2.5"/>
    <text class="quiet" x="10" y="${groundYPx + 20}">entry end</text>
    <text class="quiet" x="${widthPx / 2}" y="${groundYPx + 20}" text-anchor="middle">pivot</text>
    <text class="quiet" x="${widthPx - 10}" y="${groundYPx + 20}" text-anchor="end">exit end</text>
  </svg>`
}

function leadPaw(lead: Estimate, along: (alongM: number) => number, topYPx: number): Markup {
  if (!isMeasured(lead)) return markup``
  const [lo, hi] = lead.ci95
  const x = along(lead.value)
  return markup`<line class="interval front" x1="${along(lo)}" x2="${along(hi)}" y1="${topYPx - 3}" y2="${topYPx - 3}"/>
    <circle class="front-dot" cx="${x}" cy="${topYPx - 7}" r="6.5"/>
    <text x="${x - 6}" y="${topYPx - 22}">lead paw</text>`
}

function bodyCentre(body: Estimate, along: (alongM: number) => number, topYPx: number): Markup {
  if (!isMeasured(body)) return markup``
  const [lo, hi] = body.ci95
  const x = along(body.value)
  return markup`<line class="interval body" x1="${along(lo)}" x2="${along(hi)}" y1="${topYPx - 3}" y2="${topYPx - 3}"/>
    <path class="body-mark" d="M${x - 7},${topYPx - 17} h14 l-7,13 Z"/>
    <text x="${x - 10}" y="${topYPx - 22}" text-anchor="end">body</text>`
}

/** A measure line under the plank, from the pivot to the lead paw. */
function distance(lead: Estimate, lengthM: number, along: (alongM: number) => number, topYPx: number): Markup {
  if (!isMeasured(lead)) return markup``
  const pastM = lead.value - lengthM / 2
  const x = along(lead.value)
  const y = topYPx + plankPx + 18
  return markup`<path class="measure-line" d="M0,${y - 5} v10 M${x},${y - 5} v10 M0,${y} H${x}"/>
    <text x="${x / 2}" y="${y + 19}" text-anchor="middle">${fixed(Math.abs(pastM), 2)} m</text>`
}

import { type ScaleLinear, scaleLinear } from 'd3-scale'
import { area, line } from 'd3-shape'
import { chartSpan } from '../../analysis/drawing/chart-span.ts'
import type { Ride } from '../../analysis/ride/ride.ts'
import type { Board } from '../../analysis/board/board.ts'
import type { SoundEnvelope } from '../measuring/measured-ride.ts'
import { chartEvents, eventLines } from './chart-events.ts'
import { fixed } from '../../analysis/words/in-words.ts'
import { type Markup, markup } from './markup.ts'
import { soundStrip } from './sound-strip.ts'

/** The chart's own px; the page scales it. */
export const chartPx = { width: 1000, left: 68, right: 8 } as const

const rows = {
  labels: { top: 4, bottom: 26 },
  tilt: { top: 44, bottom: 104 },
  spans: { top: 112, bottom: 134 },
  plank: { top: 140, bottom: 400 },
  sound: { top: 410, bottom: 454 },
  time: { top: 454, bottom: 480 },
} as const

type Scale = ScaleLinear<number, number>

/**
 * One ride in one picture: time runs right, the plank runs up from entry end to exit end. The dog is the grey band
 * from its rearmost to its foremost paw, planted paws are level bars; board tilt above, sound below.
 */
export function plankChart(ride: Ride, board: Board, sound: SoundEnvelope | null): Markup {
  const [fromS, toS] = chartSpan(ride)
  const x = scaleLinear([fromS, toS], [chartPx.left, chartPx.width - chartPx.right])
  const y = scaleLinear([-0.12, board.lengthM + 0.12], [rows.plank.bottom, rows.plank.top])
  const events = chartEvents(ride, x)
  return markup`<svg class="plank-chart" viewBox="0 0 ${chartPx.width} ${rows.time.bottom}" role="img" aria-label="The ride along the plank through time">
    <defs>${clipTo('plank-row', rows.plank)}${clipTo('tilt-row', rows.tilt)}</defs>
    ${fall(ride, x)}
    ${plankGround(board, y)}
    <g clip-path="url(#plank-row)">${dogBand(ride, x, y)}${plantedPaws(ride, x, y)}</g>
    ${tilt(ride, x)}
    ${spans(ride, x)}
    ${soundStrip(sound, x, rows.sound)}
    ${timeAxis(x)}
    ${eventLines(events, rows.labels, rows.time.top)}
  </svg>`
}

function clipTo(id: string, { top, bottom }: { readonly top: number; readonly bottom: number }): Markup {
  const width = chartPx.width - chartPx.left - chartPx.right
  return markup`<clipPath id="${id}"><rect x="${chartPx.left}" y="${top - 2}" width="${width}" height="${bottom - top + 4}"/></clipPath>`
}

function fall(ride: Ride, x: Scale): Markup | null {
  const { tipStart, grounded } = ride.events
  if (tipStart.kind !== 'measured' || grounded.kind !== 'measured') return null
  const left = x(tipStart.value)
  return markup`<rect class="fall" x="${left}" y="${rows.tilt.top - 8}" width="${x(grounded.value) - left}" height="${rows.plank.bottom - rows.tilt.top + 8}"/>`
}

function plankGround(board: Board, y: Scale): Markup {
  const { lengthM, contactM } = board
  const left = chartPx.left
  const right = chartPx.width - chartPx.right
  const band = (fromM: number, toM: number) =>
    markup`<rect class="zone-band" x="${left}" y="${y(toM)}" width="${right - left}" height="${y(fromM) - y(toM)}"/>`
  const label = (alongM: number, text: string) =>
    markup`<text class="quiet" x="${left - 8}" y="${y(alongM) + 4}" text-anchor="end">${text}</text>`
  const signed = (alongM: number) => `${alongM > lengthM / 2 ? '+' : ''}${fixed(alongM - lengthM / 2, 2)}`
  return markup`${band(0, contactM)}${band(lengthM - contactM, lengthM)}
    <line class="edge" x1="${left}" x2="${right}" y1="${y(0)}" y2="${y(0)}"/>
    <line class="edge" x1="${left}" x2="${right}" y1="${y(lengthM)}" y2="${y(lengthM)}"/>
    <line class="pivot-line" x1="${left}" x2="${right}" y1="${y(lengthM / 2)}" y2="${y(lengthM / 2)}"/>
    ${label(lengthM, `${signed(lengthM)} m`)}${label(lengthM - contactM, signed(lengthM - contactM))}
    ${label(lengthM / 2, 'pivot')}${label(contactM, signed(contactM))}${label(0, signed(0))}
    <text class="zone-name" x="${left + 8}" y="${y(lengthM) + 17}">down contact</text>
    <text class="zone-name" x="${right - 8}" y="${y(0) - 8}" text-anchor="end">up contact</text>`
}

function dogBand(ride: Ride, x: Scale, y: Scale): Markup {
  const { ptsS, leadPawM, rearPawM } = ride.frames
  const frames = ptsS.map((atS, k) => ({ atS, leadM: leadPawM[k] ?? null, rearM: rearPawM[k] ?? null }))
  const band = area<(typeof frames)[number]>()
    .defined((frame) => frame.leadM !== null && frame.rearM !== null)
    .x((frame) => x(frame.atS))
    .y0((frame) => y(frame.rearM ?? 0))
    .y1((frame) => y(frame.leadM ?? 0))
  const lead = line<(typeof frames)[number]>()
    .defined((frame) => frame.leadM !== null)
    .x((frame) => x(frame.atS))
    .y((frame) => y(frame.leadM ?? 0))
  return markup`<path class="dog-band" d="${band(frames) ?? ''}"/><path class="lead-line" d="${lead(frames) ?? ''}"/>`
}

/** Front paws are full bars, hind paws hollow ones, so that they differ without colour. */
function plantedPaws(ride: Ride, x: Scale, y: Scale): readonly Markup[] {
  return ride.footfalls.map((step) => {
    const left = x(step.fromS)
    const width = Math.max(x(step.toS) - left, 4)
    return markup`<rect class="paw ${step.limb}" x="${left}" y="${y(step.alongM) - 3}" width="${width}" height="6" rx="3" opacity="${0.4 + 0.6 * step.confidence}"/>`
  })
}

function tilt(ride: Ride, x: Scale): Markup {
  const { ptsS, boardAngleDeg } = ride.frames
  const frames = ptsS.map((atS, k) => ({ atS, angleDeg: boardAngleDeg[k] ?? null }))
  const known = frames.flatMap((frame) => (frame.angleDeg === null ? [] : [frame.angleDeg]))
  const highest = Math.max(...known.map(Math.abs), 1)
  const y = scaleLinear([-highest, highest], [rows.tilt.top, rows.tilt.bottom])
  const curve = line<(typeof frames)[number]>()
    .defined((frame) => frame.angleDeg !== null)
    .x((frame) => x(frame.atS))
    .y((frame) => y(frame.angleDeg ?? 0))
  const label = (angleDeg: number) =>
    markup`<text class="quiet" x="${chartPx.left - 8}" y="${y(angleDeg) + 4}" text-anchor="end">${angleDeg > 0 ? '+' : ''}${fixed(angleDeg, 0)}°</text>`
  return markup`<line class="axis" x1="${chartPx.left}" x2="${chartPx.width - chartPx.right}" y1="${y(0)}" y2="${y(0)}"/>
    ${known.length === 0 ? null : label(-highest)}
    <text class="quiet" x="${chartPx.left - 8}" y="${y(0) + 4}" text-anchor="end">tilt</text>
    ${known.some((angleDeg) => angleDeg > 0) ? label(highest) : null}
    <path class="tilt" clip-path="url(#tilt-row)" d="${curve(frames) ?? ''}"/>`
}

/** How long it held and stayed, as measured stretches between the tilt and the plank. */
function spans(ride: Ride, x: Scale): readonly Markup[] {
  const { holdBeforeGroundS: hold, stayAfterGroundS: stay } = ride.measures
  const { grounded } = ride.events
  if (grounded.kind !== 'measured') return []
  const held = hold.kind === 'measured' ? [span(x, grounded.value - hold.value, grounded.value, 'held', 'left')] : []
  const stayed =
    stay.kind === 'measured' && stay.value > 0
      ? [span(x, grounded.value, grounded.value + stay.value, 'stayed', 'right')]
      : []
  return [...held, ...stayed]
}

/** A short stretch has its label beside it, on the side away from the landing. */
function span(x: Scale, fromS: number, toS: number, word: string, away: 'left' | 'right'): Markup {
  const yPx = rows.spans.bottom - 4
  const label = `${word} ${fixed(toS - fromS, 2)} s`
  const [left, right] = [x(fromS) + 1.5, x(toS) - 1.5]
  const roomy = right - left > label.length * 6.6
  const beside = away === 'left' ? ([left - 7, 'end'] as const) : ([right + 7, 'start'] as const)
  const [labelPx, anchor] = roomy ? ([(left + right) / 2, 'middle'] as const) : beside
  return markup`<path class="span" d="M${left},${yPx - 4} v8 M${right},${yPx - 4} v8 M${left},${yPx} H${right}"/>
    <text class="span-label" x="${labelPx}" y="${roomy ? yPx - 5 : yPx + 4}" text-anchor="${anchor}">${label}</text>`
}

function timeAxis(x: Scale): Markup {
  const ticks = x.ticks(8)
  const decimals = Math.max(1, -Math.floor(Math.log10((ticks[1] ?? 1) - (ticks[0] ?? 0) + 1e-9)))
  return markup`${ticks.map((tickS) => markup`<text class="quiet" x="${x(tickS)}" y="${rows.time.bottom - 8}" text-anchor="middle">${fixed(tickS, decimals)} s</text>`)}`
}

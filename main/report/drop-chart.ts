import { scaleLinear } from 'd3-scale'
import { line } from 'd3-shape'
import type { Drop } from '../../analysis/drop/drop-test.ts'
import { spreadLabels } from '../../analysis/drawing/spread-labels.ts'
import { chartEvent, eventLines } from './chart-events.ts'
import { chartPx } from './plank-chart.ts'
import { fixed, isMeasured } from '../../analysis/words/in-words.ts'
import { type Markup, markup } from './markup.ts'

const rows = {
  labels: { top: 4, bottom: 26 },
  tilt: { top: 44, bottom: 210 },
  time: { top: 220, bottom: 246 },
} as const

/** The board's angle through one drop with its events; the exit end is up where the curve is up. */
export function dropChart(drop: Drop): Markup {
  const { ptsS, boardAngleDeg } = drop.frames
  const [fromS, toS] = dropSpan(drop)
  const x = scaleLinear([fromS, toS], [chartPx.left, chartPx.width - chartPx.right])
  const frames = ptsS.map((atS, k) => ({ atS, angleDeg: boardAngleDeg[k] ?? null }))
  const shown = frames.filter(({ atS }) => atS >= fromS && atS <= toS)
  const known = shown.flatMap(({ angleDeg }) => (angleDeg === null ? [] : [angleDeg]))
  const highest = Math.max(...known.map(Math.abs), 1) * 1.06
  const y = scaleLinear([-highest, highest], [rows.tilt.top, rows.tilt.bottom])
  const curve = line<(typeof frames)[number]>()
    .defined(({ angleDeg }) => angleDeg !== null)
    .x(({ atS }) => x(atS))
    .y(({ angleDeg }) => y(angleDeg ?? 0))
  const right = chartPx.width - chartPx.right
  const { placed, released, tipStart, grounded } = drop.events
  const named = [
    ['placed', 'placed', placed],
    ['let go', 'released', released],
    ['tip', 'tip', tipStart],
    ['landed', 'landed', grounded],
  ] as const
  const events = spreadLabels(
    named.flatMap(([word, name, at]) => (isMeasured(at) ? [chartEvent(word, name, at, x)] : [])),
  )
  return markup`<svg class="plank-chart" viewBox="0 0 ${chartPx.width} ${rows.time.bottom}" role="img" aria-label="The board's angle through time">
    ${y.ticks(4).map(
      (
        angleDeg,
      ) => markup`<line class="axis" x1="${chartPx.left}" x2="${right}" y1="${y(angleDeg)}" y2="${y(angleDeg)}"/>
      <text class="quiet" x="${chartPx.left - 8}" y="${y(angleDeg) + 4}" text-anchor="end">${angleDeg === 0 ? 'level' : `${angleDeg > 0 ? '+' : ''}${fixed(angleDeg, 0)}°`}</text>`,
    )}
    <path class="tilt" d="${curve(shown) ?? ''}"/>
    ${x.ticks(8).map((tickS) => markup`<text class="quiet" x="${x(tickS)}" y="${rows.time.bottom - 6}" text-anchor="middle">${fixed(tickS, 1)} s</text>`)}
    ${eventLines(events, rows.labels, rows.time.top)}
  </svg>`
}

/** From a moment before the first event to a moment after the last, within the clip. */
function dropSpan(drop: Drop): readonly [number, number] {
  const first = drop.frames.ptsS[0] ?? 0
  const last = drop.frames.ptsS.at(-1) ?? 1
  const seen = Object.values(drop.events).flatMap((event) => (isMeasured(event) ? [event.value] : []))
  if (seen.length === 0) return [first, last]
  return [Math.max(first, Math.min(...seen) - 0.6), Math.min(last, Math.max(...seen) + 0.9)]
}

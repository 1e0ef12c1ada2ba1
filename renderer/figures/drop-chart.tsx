import { scaleLinear } from 'd3-scale'
import { line } from 'd3-shape'
import type { Drop } from '../../analysis/drop/drop-test.ts'
import { fixed } from '../../analysis/words/in-words.ts'
import { EventMark, placedMoments } from './event-mark.tsx'

const WIDTH = 1000
const EM_PX = 13
const LEFT = 5 * EM_PX
const RIGHT = WIDTH - 8
const rows = {
  labels: { top: 2, bottom: 25 },
  tilt: { top: 42, bottom: 208 },
  time: { top: 218, bottom: 244 },
} as const

interface AngleAt {
  readonly atS: number
  readonly angleDeg: number | null
}

/** How the exit end falls in one drop, with its moments: over the level line while it is up, under it once it is down. */
export function DropChart({ drop }: { readonly drop: Drop }) {
  const { ptsS, boardAngleDeg } = drop.frames
  const [fromS, toS] = dropSpan(drop)
  const x = scaleLinear([fromS, toS], [LEFT, RIGHT])
  const shown = ptsS
    .map((atS, k): AngleAt => ({ atS, angleDeg: boardAngleDeg[k] ?? null }))
    .filter(({ atS }) => atS >= fromS && atS <= toS)
  const known = shown.flatMap(({ angleDeg }) => (angleDeg === null ? [] : [Math.abs(angleDeg)]))
  const steepest = Math.max(1, ...known) * 1.06
  const y = scaleLinear([-steepest, steepest], [rows.tilt.top, rows.tilt.bottom])
  const curve = line<AngleAt>()
    .defined(({ angleDeg }) => angleDeg !== null)
    .x(({ atS }) => x(atS))
    .y(({ angleDeg }) => y(angleDeg ?? 0))
  const { placed, released, tipStart, grounded } = drop.events
  const named = [
    ['placed', placed],
    ['let go', released],
    ['tip', tipStart],
    ['landed', grounded],
  ] as const
  const moments = named.flatMap(([word, at]) =>
    at.kind === 'measured' ? [{ key: word, word, at, isByHand: false }] : [],
  )
  const layout = { x, emPx: EM_PX, widthPx: WIDTH, rows }
  return (
    <svg
      className="ride-chart-figure"
      viewBox={`0 0 ${WIDTH} ${rows.time.bottom}`}
      role="img"
      aria-label="How the exit end stands through time"
    >
      {y.ticks(4).map((angleDeg) => (
        <g key={angleDeg}>
          <line className="chart-level" x1={LEFT} x2={RIGHT} y1={y(angleDeg)} y2={y(angleDeg)} />
          <text className="chart-quiet" x={LEFT - 8} y={y(angleDeg) + 4} textAnchor="end">
            {angleDeg === 0 ? 'level' : `${fixed(Math.abs(angleDeg), 0)}° ${angleDeg < 0 ? 'up' : 'down'}`}
          </text>
        </g>
      ))}
      <path className="chart-tilt" d={curve(shown) ?? ''} />
      {x.ticks(8).map((tickS) => (
        <text key={tickS} className="chart-quiet" x={x(tickS)} y={rows.time.bottom - 6} textAnchor="middle">
          {fixed(tickS, 1)} s
        </text>
      ))}
      {placedMoments(moments, layout).map((mark) => (
        <g key={mark.key}>
          <EventMark mark={mark} layout={layout} />
        </g>
      ))}
    </svg>
  )
}

/** From a moment before the first event to a moment after the last, within the clip. */
function dropSpan({ frames, events }: Drop): readonly [number, number] {
  const first = frames.ptsS[0] ?? 0
  const last = frames.ptsS.at(-1) ?? 1
  const seen = Object.values(events).flatMap((event) => (event.kind === 'measured' ? [event.value] : []))
  if (seen.length === 0) return [first, last]
  return [Math.max(first, Math.min(...seen) - 0.6), Math.min(last, Math.max(...seen) + 0.9)]
}

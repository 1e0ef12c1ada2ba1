import { scaleLinear } from 'd3-scale'
import { line } from 'd3-shape'
import { memo, useId } from 'react'
import type { Ride } from '../../analysis/ride/ride.ts'
import { fixed } from '../../analysis/words/in-words.ts'
import type { ChartLayout } from './chart-layout.ts'

interface AngleAt {
  readonly atS: number
  readonly angleDeg: number | null
}

/** How the board stands: above the line the entry end is down, below it the exit end, as the board does. */
export const TiltRow = memo(function TiltRow(props: { readonly frames: Ride['frames']; readonly layout: ChartLayout }) {
  const { frames, layout } = props
  const { x, left, right, emPx, rows } = layout
  const clipId = useId()
  const angles = frames.ptsS.map((atS, k): AngleAt => ({ atS, angleDeg: frames.boardAngleDeg[k] ?? null }))
  const known = angles.flatMap(({ angleDeg }) => (angleDeg === null ? [] : [Math.abs(angleDeg)]))
  const steepest = Math.max(1, ...known)
  const y = scaleLinear([-steepest, steepest], [rows.tilt.top, rows.tilt.bottom])
  const curve = line<AngleAt>()
    .defined(({ angleDeg }) => angleDeg !== null)
    .x(({ atS }) => x(atS))
    .y(({ angleDeg }) => y(angleDeg ?? 0))
  const label = (angleDeg: number, text: string) => (
    <text className="chart-quiet" x={left - 0.6 * emPx} y={y(angleDeg) + 0.35 * emPx} textAnchor="end">
      {text}
    </text>
  )
  const isRoomy = rows.tilt.bottom - rows.tilt.top > 2.4 * emPx
  return (
    <g>
      <line className="chart-level" x1={left} x2={right} y1={y(0)} y2={y(0)} />
      {label(0, 'tilt')}
      {isRoomy && known.length > 0 ? label(-steepest, `−${fixed(steepest, 0)}°`) : null}
      {isRoomy && known.length > 0 ? label(steepest, `+${fixed(steepest, 0)}°`) : null}
      <clipPath id={clipId}>
        <rect x={left} width={right - left} y={rows.tilt.top - 2} height={rows.tilt.bottom - rows.tilt.top + 4} />
      </clipPath>
      <path className="chart-tilt" clipPath={`url(#${clipId})`} d={curve(angles) ?? ''} />
    </g>
  )
})

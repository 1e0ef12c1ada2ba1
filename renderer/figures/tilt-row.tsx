import { scaleLinear } from 'd3-scale'
import { line } from 'd3-shape'
import { memo } from 'react'
import type { Ride } from '../../analysis/ride/ride.ts'
import { fixed } from '../../analysis/words/in-words.ts'
import type { ChartLayout } from './chart-layout.ts'

interface AngleAt {
  readonly atS: number
  readonly angleDeg: number | null
}

/** How the exit end stands: over the level line while it is up, under it once it is down. */
export const TiltRow = memo(function TiltRow(props: {
  readonly frames: Ride['frames']
  readonly layout: ChartLayout
  /** Of the chart's clip path, so that the curve ends where the row does. */
  readonly clipId: string
}) {
  const { frames, layout, clipId } = props
  const { x, left, right, emPx, rows } = layout
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
      {label(0, 'exit end')}
      {isRoomy && known.length > 0 ? label(-steepest, `${fixed(steepest, 0)}° up`) : null}
      {isRoomy && known.length > 0 ? label(steepest, `${fixed(steepest, 0)}° down`) : null}
      <path className="chart-tilt" clipPath={`url(#${clipId})`} d={curve(angles) ?? ''} />
    </g>
  )
})

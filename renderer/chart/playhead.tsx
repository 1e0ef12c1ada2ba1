import type { PointerEvent } from 'react'
import { momentInWords } from '../words/moments.ts'
import type { ChartLayout } from '../figures/chart-layout.ts'
import { followDrag } from './drag.ts'

export interface PlayheadProps {
  readonly atS: number
  readonly layout: ChartLayout
  /** Called while it is dragged; keys are the business of the screen around it. */
  readonly onSeek?: (atS: number) => void
}

/** The instant whose picture is shown: a line through all rows with a knob on the time axis. */
export function Playhead({ atS, layout, onSeek }: PlayheadProps) {
  const { x, left, right, rows } = layout
  const xPx = x(atS)
  if (xPx < left - 1 || xPx > right + 1) return null
  const line = (
    <line className="chart-playhead-line" x1={xPx} x2={xPx} y1={rows.labels.bottom + 2} y2={rows.time.top + 2} />
  )
  const knob = <circle className="chart-playhead-knob" cx={xPx} cy={rows.time.top + 4} r={6} />
  if (onSeek === undefined) {
    return (
      <g>
        {line}
        {knob}
      </g>
    )
  }
  const press = (pressed: PointerEvent<SVGElement>): void => {
    pressed.stopPropagation()
    followDrag(
      pressed,
      ({ dxPx }) => onSeek(x.invert(xPx + dxPx)),
      () => undefined,
    )
  }
  const [fromS, toS] = x.domain() as [number, number]
  return (
    <g>
      {line}
      <g
        className="chart-playhead"
        role="slider"
        tabIndex={0}
        aria-label="Frame shown"
        aria-valuemin={fromS}
        aria-valuemax={toS}
        aria-valuenow={atS}
        aria-valuetext={momentInWords(atS)}
        onPointerDown={press}
      >
        {knob}
        <circle className="chart-hit" cx={xPx} cy={rows.time.top + 4} r={12} />
      </g>
    </g>
  )
}

import { memo } from 'react'
import { fixed } from '../../analysis/words/in-words.ts'
import type { ChartLayout } from './chart-layout.ts'

export const TimeAxis = memo(function TimeAxis({ layout }: { readonly layout: ChartLayout }) {
  const { x, emPx, rows, left, right } = layout
  const ticks = x.ticks(Math.max(2, Math.floor((right - left) / (7 * emPx))))
  const stepS = (ticks[1] ?? 1) - (ticks[0] ?? 0)
  const decimals = Math.max(1, -Math.floor(Math.log10(stepS + 1e-9)))
  return (
    <g>
      {ticks.map((tickS) => (
        <g key={tickS}>
          <line className="chart-tick" x1={x(tickS)} x2={x(tickS)} y1={rows.time.top} y2={rows.time.top + 4} />
          <text className="chart-quiet" x={x(tickS)} y={rows.time.top + 1.25 * emPx} textAnchor="middle">
            {fixed(tickS, decimals)} s
          </text>
        </g>
      ))}
    </g>
  )
})

import { memo } from 'react'
import type { Ride } from '../../analysis/ride/ride.ts'
import { fixed } from '../../analysis/words/in-words.ts'
import type { ChartLayout } from './chart-layout.ts'

/** How long the dog held and stayed, as measured stretches on both sides of the landing. */
export const StretchesRow = memo(function StretchesRow(props: { readonly ride: Ride; readonly layout: ChartLayout }) {
  const { ride, layout } = props
  const { holdBeforeGroundS: hold, stayAfterGroundS: stay } = ride.measures
  const { grounded } = ride.events
  if (grounded.kind !== 'measured') return null
  const landedS = grounded.value
  return (
    <g>
      {hold.kind === 'measured' ? (
        <Stretch layout={layout} fromS={landedS - hold.value} toS={landedS} word="held" labelSide="left" />
      ) : null}
      {stay.kind === 'measured' && stay.value > 0 ? (
        <Stretch layout={layout} fromS={landedS} toS={landedS + stay.value} word="stayed" labelSide="right" />
      ) : null}
    </g>
  )
})

interface StretchProps {
  readonly layout: ChartLayout
  readonly fromS: number
  readonly toS: number
  readonly word: string
  /** Where the label goes when it does not fit in: away from the landing. */
  readonly labelSide: 'left' | 'right'
}

function Stretch({ layout, fromS, toS, word, labelSide }: StretchProps) {
  const { x, emPx, rows } = layout
  const middle = (rows.stretches.top + rows.stretches.bottom) / 2
  const [from, to] = [x(fromS) + 1.5, x(toS) - 1.5]
  const label = `${word} ${fixed(toS - fromS, 2)} s`
  const labelPx = label.length * 0.52 * emPx
  const isRoomy = to - from > labelPx + 2 * emPx
  const [atPx, anchor] = isRoomy
    ? ([(from + to) / 2, 'middle'] as const)
    : labelSide === 'left'
      ? ([from - 0.4 * emPx, 'end'] as const)
      : ([to + 0.4 * emPx, 'start'] as const)
  const gap = labelPx / 2 + 0.5 * emPx
  const lines = isRoomy ? `M${from},${middle}H${atPx - gap}M${atPx + gap},${middle}H${to}` : `M${from},${middle}H${to}`
  return (
    <g>
      <path className="chart-stretch" d={`M${from},${middle - 4}v8M${to},${middle - 4}v8${to > from ? lines : ''}`} />
      <text className="chart-stretch-label" x={atPx} y={middle + 0.34 * emPx} textAnchor={anchor}>
        {label}
      </text>
    </g>
  )
}

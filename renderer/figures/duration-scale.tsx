import { scaleLinear } from 'd3-scale'
import type { Estimate } from '../../analysis/estimate.ts'

const WIDTH = 320

/** A duration with its 95 % interval on a line from 0: a dot, a band, an arrow where it is only known from below. */
export function DurationScale({ duration }: { readonly duration: Estimate }) {
  if (duration.kind === 'withheld') return null
  const highest = duration.kind === 'measured' ? duration.ci95[1] : duration.value
  const endS = Math.max(1, Math.ceil(highest * 1.15 * 2) / 2)
  const x = scaleLinear([0, endS], [6, WIDTH - 6]).clamp(true)
  const ticks = x.ticks(endS <= 2 ? 4 : 6)
  const lastS = ticks[ticks.length - 1] ?? endS
  const atPx = x(duration.value)
  const [fromPx, toPx] =
    duration.kind === 'measured' ? (duration.ci95.map((s) => x(s)) as [number, number]) : [atPx, WIDTH - 14]
  return (
    <svg className="scale" viewBox={`0 0 ${WIDTH} 30`} aria-hidden="true">
      <line className="scale-axis" x1={6} x2={WIDTH - 6} y1={8} y2={8} />
      {ticks.map((tickS) => (
        <line key={tickS} className="scale-axis" x1={x(tickS)} x2={x(tickS)} y1={4.5} y2={11.5} />
      ))}
      <text className="scale-end" x={x(0) - 5} y={27}>
        0
      </text>
      <text
        className="scale-end"
        x={x(lastS)}
        y={27}
        textAnchor={lastS === endS ? 'end' : 'middle'}
        dx={lastS === endS ? 5 : 0}
      >
        {lastS} s
      </text>
      <line className="scale-interval" x1={fromPx} x2={toPx} y1={8} y2={8} />
      <circle className="scale-value" cx={atPx} cy={8} r={5} />
      {duration.kind === 'atLeast' ? (
        <path className="scale-value" d={`M${WIDTH - 16},2.5 L${WIDTH - 5},8 L${WIDTH - 16},13.5 Z`} />
      ) : null}
    </svg>
  )
}

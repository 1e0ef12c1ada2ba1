import { scaleLinear } from 'd3-scale'

const WIDTH = 220
const PAD = 5

export interface IntervalBarProps {
  readonly value: number
  readonly ci95: readonly [number, number]
  /** What lies at the two ends; of all bars that stand below one another the same. */
  readonly domain: readonly [number, number]
}

/** A value with its 95 % interval on a scale that it shares with others; the words beside it say the same. */
export function IntervalBar({ value, ci95: [lo, hi], domain: [from, to] }: IntervalBarProps) {
  const x = scaleLinear([from, to], [PAD, WIDTH - PAD]).clamp(true)
  return (
    <svg className="interval-bar" viewBox={`0 0 ${WIDTH} 16`} aria-hidden="true">
      <line className="scale-axis" x1={PAD} x2={WIDTH - PAD} y1={8} y2={8} />
      {from < 0 && to > 0 ? <line className="scale-axis" x1={x(0)} x2={x(0)} y1={2} y2={14} /> : null}
      <line className="scale-interval" x1={x(lo)} x2={x(hi)} y1={8} y2={8} />
      <circle className="scale-value" cx={x(value)} cy={8} r={4} />
    </svg>
  )
}

import { scaleLinear } from 'd3-scale'
import { area, line } from 'd3-shape'
import type { FallCurve } from '../../analysis/board-physics/fall-curve.ts'
import { fixed } from '../../analysis/words/in-words.ts'

const WIDTH = 1000
const LEFT = 70
const RIGHT = WIDTH - 24
const TOP = 30
const BOTTOM = 150
const HEIGHT = 180

export interface FallCurveFigureProps {
  readonly curve: FallCurve
  /** s; null: no lower limit. */
  readonly leastS: number | null
  readonly mostS: number
  /** From placing to letting go, s; 0 when the clock starts with the letting go. */
  readonly handS: number
}

/** How the exit end goes down in a rule set's test, with its band, and the window in which it must land. */
export function FallCurveFigure({ curve, leastS, mostS, handS }: FallCurveFigureProps) {
  const { timesS, angleDeg, lowDeg, highDeg } = curve
  const x = scaleLinear([0, timesS[timesS.length - 1] ?? 1], [LEFT, RIGHT])
  const restDeg = angleDeg[0] ?? 0
  const groundDeg = Math.max(...highDeg, -restDeg)
  const y = scaleLinear([restDeg, groundDeg], [TOP + 8, BOTTOM])
  const index = timesS.map((_, k) => k)
  const at = (k: number) => x(timesS[k] ?? 0)
  const band = area<number>()
    .x(at)
    .y0((k) => y(lowDeg[k] ?? 0))
    .y1((k) => y(highDeg[k] ?? 0))
  const middle = line<number>()
    .x(at)
    .y((k) => y(angleDeg[k] ?? 0))
  const windowX = x(leastS ?? 0)
  return (
    <svg
      className="ride-chart-figure"
      viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
      role="img"
      aria-label="How the exit end falls in the test, and the window in which it must land"
    >
      <rect className="board-window" x={windowX} y={TOP} width={x(mostS) - windowX} height={BOTTOM - TOP} />
      <text className="chart-quiet" x={(windowX + x(mostS)) / 2} y={TOP - 8} textAnchor="middle">
        {leastS === null ? `must land before ${fixed(mostS, 0)} s` : 'must land in here'}
      </text>
      {[restDeg, 0, groundDeg].map((level, k) => (
        <g key={k}>
          <line className="chart-level" x1={LEFT} x2={RIGHT} y1={y(level)} y2={y(level)} />
          <text className="chart-quiet" x={LEFT - 8} y={y(level) + 4} textAnchor="end">
            {['rest', 'level', 'ground'][k]}
          </text>
        </g>
      ))}
      {handS > 0 && (
        <g>
          <line className="chart-pivot" x1={x(handS)} x2={x(handS)} y1={TOP} y2={BOTTOM} />
          <text className="chart-quiet" x={x(handS) + 6} y={BOTTOM - 8}>
            hand off
          </text>
        </g>
      )}
      <path className="chart-fall" d={band(index) ?? ''} />
      <path className="chart-tilt" d={middle(index) ?? ''} />
      {x.ticks(8).map((tickS) => (
        <text key={tickS} className="chart-quiet" x={x(tickS)} y={HEIGHT - 10} textAnchor="middle">
          {fixed(tickS, 1)} s
        </text>
      ))}
    </svg>
  )
}

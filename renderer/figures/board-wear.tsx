import { scaleLinear } from 'd3-scale'
import type { BoardWear } from '../../analysis/board-physics/wear.ts'
import { WEAR_WORDS } from '../../analysis/board-physics/wear-words.ts'
import { Z95 } from '../../analysis/estimate.ts'
import { DAYS_PER_MONTH } from '../../analysis/progress/season.ts'
import { SEASON, SeasonAxis, seasonScale } from './season-axis.tsx'

const TOP_PX = 24
const BOTTOM_PX = 124
const HEIGHT_PX = 146

/** One measure of a board over its drop tests, each with its interval; a drift is drawn only where one is told. */
export function BoardWearFigure({ wear }: { readonly wear: BoardWear }) {
  const { measure, points } = wear
  const { name, unit } = WEAR_WORDS[measure]
  const shown = (value: number) => value * unit.perSi
  const scale = seasonScale(points.map(({ day }) => day))
  const lows = points.map(({ value, sd }) => shown(value - Z95 * sd))
  const highs = points.map(({ value, sd }) => shown(value + Z95 * sd))
  const y = scaleLinear([Math.min(...lows), Math.max(...highs)], [BOTTOM_PX, TOP_PX]).nice(4)
  const left = SEASON.leftPx
  const right = SEASON.widthPx - SEASON.rightPx
  return (
    <svg className="season-figure" viewBox={`0 0 ${SEASON.widthPx} ${HEIGHT_PX}`} role="img" aria-label={name}>
      <text className="chart-value" x={left} y={TOP_PX - 12}>
        {name}
      </text>
      <SeasonAxis scale={scale} topPx={TOP_PX} bottomPx={BOTTOM_PX} />
      {y.ticks(4).map((tick) => (
        <g key={tick}>
          <line className="chart-level" x1={left} x2={right} y1={y(tick)} y2={y(tick)} />
          <text className="chart-quiet" x={left - 8} y={y(tick) + 4} textAnchor="end">
            {`${tick} ${unit.sign}`}
          </text>
        </g>
      ))}
      <Drift wear={wear} x={scale.ofDay} y={(value) => y(shown(value))} />
      {points.map(({ day, value }, k) => (
        <g key={k}>
          <line
            className="season-interval"
            x1={scale.ofRide[k]}
            x2={scale.ofRide[k]}
            y1={y(lows[k] ?? 0)}
            y2={y(highs[k] ?? 0)}
          />
          <circle className="board-sign" cx={scale.ofRide[k] ?? scale.ofDay(day)} cy={y(shown(value))} r={3.4} />
        </g>
      ))}
    </svg>
  )
}

function Drift(props: {
  readonly wear: BoardWear
  readonly x: (day: number) => number
  readonly y: (value: number) => number
}) {
  const { wear, x, y } = props
  const { points, perMonth, drifts } = wear
  if (!drifts || perMonth.kind !== 'measured') return null
  const [first, last] = [points[0]!.day, points[points.length - 1]!.day]
  const middle = points.reduce((sum, { day }) => sum + day, 0) / points.length
  const mean = points.reduce((sum, { value }) => sum + value, 0) / points.length
  const at = (day: number, slope: number) => y(mean + (slope * (day - middle)) / DAYS_PER_MONTH)
  const [low, high] = perMonth.ci95
  const fan = [
    [first, low],
    [last, low],
    [last, high],
    [first, high],
  ] as const
  return (
    <g>
      <polygon
        className="season-band"
        points={fan.map(([day, slope]) => `${x(day).toFixed(1)},${at(day, slope).toFixed(1)}`).join(' ')}
      />
      <line
        className="season-level"
        x1={x(first)}
        x2={x(last)}
        y1={at(first, perMonth.value)}
        y2={at(last, perMonth.value)}
      />
    </g>
  )
}

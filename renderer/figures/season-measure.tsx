import { scaleLinear } from 'd3-scale'
import { dayNumber, DAYS_PER_MONTH } from '../../analysis/progress/season.ts'
import { MEASURES } from '../../analysis/progress/measure-words.ts'
import type { MeasureTrend } from '../../analysis/progress/report-parts.ts'
import type { Series } from '../../analysis/progress/series.ts'
import { Z95 } from '../../analysis/estimate.ts'
import { BoardSign } from './board-sign.tsx'
import { figureRole, type RideLinks, RideMark } from './ride-mark.tsx'
import { SEASON, SeasonAxis, seasonScale } from './season-axis.tsx'

const TOP_PX = 8
const BOTTOM_PX = 104
const HEIGHT_PX = 126

export interface SeasonMeasureProps {
  readonly series: Series
  readonly trend: MeasureTrend
  /** For each ride of the series the place of its board among the dog's; -1 for none. */
  readonly boardOf: readonly number[]
  /** Days of all of the dog's rides in rising order: the axis of every figure of the season. */
  readonly days: readonly number[]
  /** Subtracted before values are shown: half the plank for places told from the pivot. */
  readonly shift: number
  readonly links?: RideLinks | null
}

/**
 * One measure over the season: each ride with its interval and its board's sign, an arrow for a lower bound. A trend
 * is drawn as a band, a change as two levels, and only where it may be believed.
 */
export function SeasonMeasure({ series, trend, boardOf, days, shift, links = null }: SeasonMeasureProps) {
  const { unit, name } = MEASURES[series.measure]!
  const shown = (value: number) => (value - shift) * unit.perSi
  const scale = seasonScale(days)
  const offset = scaleOffsets(scale.ofRide, days)
  const lows = series.value.map((value, i) => shown(value - Z95 * series.sd[i]!))
  const highs = series.value.map((value, i) => shown(value + Z95 * series.sd[i]!))
  const y = scaleLinear([Math.min(...lows), Math.max(...highs)], [BOTTOM_PX, TOP_PX]).nice(4)
  const ticks = y.ticks(4)
  const left = SEASON.leftPx
  const right = SEASON.widthPx - SEASON.rightPx
  return (
    <svg
      className="season-figure"
      viewBox={`0 0 ${SEASON.widthPx} ${HEIGHT_PX}`}
      role={figureRole(links)}
      aria-label={name}
    >
      <SeasonAxis scale={scale} topPx={TOP_PX} bottomPx={BOTTOM_PX} />
      {ticks.map((tick) => (
        <g key={tick}>
          <line className="chart-level" x1={left} x2={right} y1={y(tick)} y2={y(tick)} />
          <text className="chart-quiet" x={left - 8} y={y(tick) + 4} textAnchor="end">
            {`${String(tick).replace('-', '−')} ${unit.sign}`}
          </text>
        </g>
      ))}
      <Believed series={series} trend={trend} x={scale.ofDay} y={(value) => y(shown(value))} />
      {series.value.map((value, i) => {
        const xPx = offset(series.day[i]!)
        return (
          <RideMark
            key={series.rideIndex[i]}
            index={series.rideIndex[i]!}
            links={links}
            isFirst={i === 0}
            xPx={xPx}
            topPx={TOP_PX}
            bottomPx={BOTTOM_PX}
          >
            {series.isBound[i] ? (
              <path className="season-goes-on" d={`M${xPx - 4},${y(shown(value))} l4,-7 l4,7 Z m4,0 v7`} />
            ) : (
              <line className="season-interval" x1={xPx} x2={xPx} y1={y(lows[i]!)} y2={y(highs[i]!)} />
            )}
            {boardOf[i]! < 0 || series.isBound[i] ? null : (
              <BoardSign k={boardOf[i]!} xPx={xPx} yPx={y(shown(value))} sizePx={3.4} />
            )}
          </RideMark>
        )
      })}
    </svg>
  )
}

/** Rides of one day one after the other at their places on the line of the season. */
function scaleOffsets(ofRide: readonly number[], days: readonly number[]): (day: number) => number {
  const used = new Map<number, number>()
  return (day) => {
    const first = days.indexOf(day)
    const count = used.get(day) ?? 0
    used.set(day, count + 1)
    return ofRide[Math.min(first + count, ofRide.length - 1)]!
  }
}

interface BelievedProps {
  readonly series: Series
  readonly trend: MeasureTrend
  readonly x: (day: number) => number
  readonly y: (value: number) => number
}

function Believed({ series, trend, x, y }: BelievedProps) {
  const first = series.day[0]!
  const last = series.day[series.day.length - 1]!
  if (trend.change !== null) {
    const day = dayNumber(trend.change.day)!
    const level = (from: number, to: number, { value, ci95 }: { value: number; ci95: readonly [number, number] }) => (
      <>
        <rect
          className="season-band"
          x={x(from)}
          width={x(to) - x(from)}
          y={y(ci95[1])}
          height={y(ci95[0]) - y(ci95[1])}
        />
        <line className="season-level" x1={x(from)} x2={x(to)} y1={y(value)} y2={y(value)} />
      </>
    )
    return (
      <g>
        {level(first, day, trend.change.before)}
        {level(day, last, trend.change.after)}
      </g>
    )
  }
  if (trend.perMonth.kind !== 'measured' || trend.verdict === 'unclear' || trend.verdict === 'too-few') return null
  const { value: slope, sd } = trend.perMonth
  const n = series.value.length
  const middle = series.day.reduce((sum, day) => sum + day, 0) / n
  const mean = series.value.reduce((sum, value) => sum + value, 0) / n
  const spread = Math.sqrt(series.value.reduce((sum, value) => sum + (value - mean) ** 2, 0) / n / n)
  const at = (day: number, side: number) => {
    const months = (day - middle) / DAYS_PER_MONTH
    return y(mean + slope * months + side * Z95 * Math.hypot(spread, sd * months))
  }
  const days = Array.from({ length: 9 }, (_, k) => first + ((last - first) * k) / 8)
  const upper = days.map((day) => `${x(day).toFixed(1)},${at(day, 1).toFixed(1)}`)
  const lower = days.toReversed().map((day) => `${x(day).toFixed(1)},${at(day, -1).toFixed(1)}`)
  return (
    <g>
      <polygon className="season-band" points={[...upper, ...lower].join(' ')} />
      <line className="season-level" x1={x(first)} x2={x(last)} y1={at(first, 0)} y2={at(last, 0)} />
    </g>
  )
}

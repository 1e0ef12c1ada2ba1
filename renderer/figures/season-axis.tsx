import { scaleLinear } from 'd3-scale'
import { dayText } from '../../analysis/progress/season.ts'

/** All figures of a season share one width and one axis of days. */
export const SEASON = { widthPx: 960, leftPx: 84, rightPx: 14 } as const

const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec']

/** Where days lie, px; rides of one day stand beside one another. */
export interface SeasonScale {
  readonly ofDay: (day: number) => number
  /** For each ride, in the order given. */
  readonly ofRide: readonly number[]
  /** First days of months within the season. */
  readonly months: readonly { readonly xPx: number; readonly name: string }[]
}

/** Lays out rides by their days (days since 1970-01-01, in rising order). */
export function seasonScale(days: readonly number[]): SeasonScale {
  const first = days[0] ?? 0
  const last = Math.max(days[days.length - 1] ?? 0, first + 28)
  const x = scaleLinear([first - 2, last + 2], [SEASON.leftPx + 8, SEASON.widthPx - SEASON.rightPx - 8])
  const stepPx = Math.min(7, (0.8 * (SEASON.widthPx - SEASON.leftPx)) / Math.max(1, days.length))
  const ofRide = days.map((day, i) => {
    const same = days.filter((other) => other === day).length
    const before = days.slice(0, i).filter((other) => other === day).length
    return x(day) + (before - (same - 1) / 2) * stepPx
  })
  const months: { xPx: number; name: string }[] = []
  for (let day = Math.ceil(first); day <= last; day++) {
    const text = dayText(day)
    if (!text.endsWith('-01')) continue
    const month = Number(text.slice(5, 7)) - 1
    months.push({ xPx: x(day), name: month === 0 ? `Jan ${text.slice(0, 4)}` : MONTHS[month]! })
  }
  return { ofDay: x, ofRide, months }
}

/** Names of the months below a figure, and a hair line through it at each. */
export function SeasonAxis(props: { readonly scale: SeasonScale; readonly topPx: number; readonly bottomPx: number }) {
  const { scale, topPx, bottomPx } = props
  return (
    <g>
      {scale.months.map(({ xPx, name }) => (
        <g key={name}>
          <line className="chart-level" x1={xPx} x2={xPx} y1={topPx} y2={bottomPx} />
          <text className="chart-quiet" x={xPx + 4} y={bottomPx + 14}>
            {name}
          </text>
        </g>
      ))}
    </g>
  )
}

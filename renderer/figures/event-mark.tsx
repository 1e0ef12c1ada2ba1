import { spreadLabels } from '../../analysis/drawing/spread-labels.ts'
import type { Measured } from '../../analysis/estimate.ts'
import type { ChartLayout } from './chart-layout.ts'

/** A moment on a chart, with its 95 % interval, and the word that stands over it. */
export interface ChartMoment {
  readonly key: string
  readonly word: string
  readonly at: Measured
  /** Set by hand: its label has a diamond. */
  readonly isByHand: boolean
}

/** A moment with where it and its label lie, px. */
export interface PlacedMoment extends ChartMoment {
  readonly xPx: number
  readonly labelPx: number
  readonly labelWidthPx: number
}

/** Lays the labels of some moments side by side, each within the chart. */
export function placedMoments(moments: readonly ChartMoment[], layout: MomentLayout): readonly PlacedMoment[] {
  const { x, emPx, widthPx } = layout
  const marks = moments.map((moment) => ({
    ...moment,
    xPx: x(moment.at.value),
    labelWidthPx: moment.word.length * 0.58 * emPx + (moment.isByHand ? 2.2 : 1.4) * emPx,
  }))
  return spreadLabels(marks).map((mark) => {
    const halfPx = mark.labelWidthPx / 2 + 1
    return { ...mark, labelPx: Math.min(widthPx - halfPx, Math.max(halfPx, mark.labelPx)) }
  })
}

type MomentLayout = Pick<ChartLayout, 'x' | 'emPx' | 'widthPx'> & {
  readonly rows: Pick<ChartLayout['rows'], 'labels' | 'tilt' | 'time'>
}

/** A moment: a line through all rows with a word on top, and its interval as a band where it can be seen. */
export function EventMark({ mark, layout }: { readonly mark: PlacedMoment; readonly layout: MomentLayout }) {
  const { word, at, isByHand, xPx, labelPx, labelWidthPx } = mark
  const { x, emPx, rows } = layout
  const { top, bottom } = rows.labels
  const [fromPx, toPx] = at.ci95.map((s) => x(s)) as [number, number]
  return (
    <>
      {toPx - fromPx > 3 ? (
        <rect
          className="chart-event-interval"
          x={fromPx}
          width={toPx - fromPx}
          y={rows.tilt.top}
          height={rows.time.top - rows.tilt.top}
        />
      ) : null}
      <path className="chart-event-line" d={`M${labelPx},${bottom} L${xPx},${bottom + 0.5 * emPx} V${rows.time.top}`} />
      <rect
        className="chart-event-label"
        x={labelPx - labelWidthPx / 2}
        y={top}
        width={labelWidthPx}
        height={bottom - top}
        rx={(bottom - top) / 2}
      />
      {isByHand ? (
        <path className="chart-event-by-hand" d={diamond(labelPx - labelWidthPx / 2 + emPx, (top + bottom) / 2, 4)} />
      ) : null}
      <text
        className="chart-event-word"
        x={isByHand ? labelPx + 0.45 * emPx : labelPx}
        y={(top + bottom) / 2 + 0.34 * emPx}
        textAnchor="middle"
      >
        {word}
      </text>
    </>
  )
}

function diamond(xPx: number, yPx: number, halfPx: number): string {
  return `M${xPx - halfPx},${yPx} L${xPx},${yPx - halfPx} L${xPx + halfPx},${yPx} L${xPx},${yPx + halfPx} Z`
}

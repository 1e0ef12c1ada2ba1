import { scaleLinear } from 'd3-scale'
import type { FallsAndLeavings } from '../../analysis/progress/fall-and-leaving.ts'
import { BoardSign } from './board-sign.tsx'
import { figureRole, type RideLinks, RideMark } from './ride-mark.tsx'

const WIDTH = 960
const HEIGHT = 296
const PLOT = { left: 74, right: 946, top: 26, bottom: 250 }

/** When the board landed against when the dog left, both from the tip; a dog that waits moves along the rising line. */
export function WaitingChart({
  known,
  boards,
  links = null,
}: {
  readonly known: FallsAndLeavings
  readonly boards: readonly string[]
  readonly links?: RideLinks | null
}) {
  const falls = known.rides.map(({ fallS }) => fallS)
  const lefts = known.rides.map(({ leftS }) => leftS)
  const middle = (values: readonly number[]) => values.toSorted((a, b) => a - b)[Math.floor(values.length / 2)] ?? 0
  const x = scaleLinear([Math.min(...falls) - 0.05, Math.max(...falls) + 0.05], [PLOT.left, PLOT.right])
  const [lo, hi] = x.domain() as [number, number]
  const usual = middle(lefts)
  const waits = (fallS: number) => usual + fallS - middle(falls)
  // All three lines from end to end, so that their slopes are true.
  const drawn = [...lefts, lo, hi, waits(lo), waits(hi)]
  const y = scaleLinear([Math.min(...drawn) - 0.05, Math.max(...drawn) + 0.05], [PLOT.bottom, PLOT.top])
  return (
    <svg
      className="season-figure"
      viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
      role={figureRole(links)}
      aria-label="Leaving against the landing"
    >
      {x.ticks(5).map((tick) => (
        <text key={tick} className="chart-quiet" x={x(tick)} y={PLOT.bottom + 18} textAnchor="middle">
          {tick.toFixed(1)}
        </text>
      ))}
      {y.ticks(5).map((tick) => (
        <g key={tick}>
          <line className="chart-level" x1={PLOT.left} x2={PLOT.right} y1={y(tick)} y2={y(tick)} />
          <text className="chart-quiet" x={PLOT.left - 8} y={y(tick) + 4} textAnchor="end">
            {tick.toFixed(1)}
          </text>
        </g>
      ))}
      <text className="chart-quiet" x={PLOT.right} y={PLOT.bottom + 38} textAnchor="end">
        board lands, s after the tip
      </text>
      <text className="chart-quiet" x={PLOT.left - 48} y={14}>
        leaves, s after the tip
      </text>
      <line className="season-landing" x1={x(lo)} x2={x(hi)} y1={y(lo)} y2={y(hi)} />
      <text className="chart-quiet" x={x(hi) - 4} y={y(hi) + 34} textAnchor="end">
        the landing
      </text>
      <line className="waiting-waits" x1={x(lo)} x2={x(hi)} y1={y(waits(lo))} y2={y(waits(hi))} />
      <text className="waiting-word" x={x(hi) - 4} y={y(waits(hi)) - 6} textAnchor="end">
        waits
      </text>
      <line className="waiting-counts" x1={x(lo)} x2={x(hi)} y1={y(usual)} y2={y(usual)} />
      <text className="waiting-word" x={x(lo) + 4} y={y(usual) - 6}>
        counts
      </text>
      {known.rides.map(({ ride, board, fallS, leftS, isBound }, i) => (
        <RideMark
          key={ride.index}
          index={ride.index}
          links={links}
          isFirst={i === 0}
          xPx={x(fallS)}
          topPx={y(leftS) - 7}
          bottomPx={y(leftS) + 7}
        >
          {isBound ? (
            <path className="season-goes-on" d={`M${x(fallS) - 4},${y(leftS)} l4,-7 l4,7 Z m4,0 v7`} />
          ) : (
            <BoardSign k={boards.indexOf(known.boards[board]!)} xPx={x(fallS)} yPx={y(leftS)} sizePx={4.2} />
          )}
        </RideMark>
      ))}
    </svg>
  )
}

import { scaleLinear } from 'd3-scale'
import { line } from 'd3-shape'
import { fixed } from '../../analysis/words/in-words.ts'

/** The curves of one ride, counted from what two rides are aligned on. */
export interface PairedCurves {
  readonly fromAlignedS: readonly number[]
  readonly boardAngleDeg: readonly (number | null)[]
  /** From the pivot. */
  readonly leadPawM: readonly (number | null)[]
}

export interface PairedChartProps {
  readonly first: PairedCurves
  readonly second: PairedCurves
  readonly spanS: readonly [number, number]
  /** The moment that is shown, from the aligning one, s; null: none. */
  readonly shownS: number | null
  /** What the rides are aligned on: "tip". */
  readonly alignedOn: string
}

const [WIDTH_PX, HEIGHT_PX, LEFT_PX, BELOW_PX, GAP_PX] = [900, 300, 70, 26, 14]

/** The lead paws and the boards of two rides over each other: the first full, the second dashed. */
export function PairedChart({ first, second, spanS, shownS, alignedOn }: PairedChartProps) {
  const x = scaleLinear([...spanS], [LEFT_PX, WIDTH_PX - 8])
  const middlePx = 0.6 * (HEIGHT_PX - BELOW_PX)
  const angles = extent([...first.boardAngleDeg, ...second.boardAngleDeg])
  const paw = scaleLinear(extent([...first.leadPawM, ...second.leadPawM]), [middlePx - GAP_PX, 8])
  const angle = scaleLinear(angles, [middlePx + GAP_PX, HEIGHT_PX - BELOW_PX - 4])
  const curve = (
    times: readonly number[],
    values: readonly (number | null)[],
    y: (value: number) => number,
  ): string => {
    const points = times.map((s, k) => [s, values[k] ?? null] as const).filter(([s]) => s >= spanS[0] && s <= spanS[1])
    const path = line<readonly [number, number | null]>()
      .defined(([, value]) => value !== null)
      .x(([s]) => x(s))
      .y(([, value]) => y(value ?? 0))
    return path(points) ?? ''
  }
  return (
    <svg
      className="paired-chart"
      viewBox={`0 0 ${WIDTH_PX} ${HEIGHT_PX}`}
      role="img"
      aria-label="Both rides through time"
    >
      <line className="chart-pivot" x1={LEFT_PX} x2={WIDTH_PX - 8} y1={paw(0)} y2={paw(0)} />
      <text className="chart-quiet" x={LEFT_PX - 8} y={paw(0) + 4} textAnchor="end">
        pivot
      </text>
      <text className="chart-quiet" x={LEFT_PX - 8} y={16} textAnchor="end">
        lead paw
      </text>
      <text className="chart-quiet" x={LEFT_PX - 8} y={middlePx + GAP_PX + 10} textAnchor="end">
        board
      </text>
      {[first, second].map((curves, k) => (
        <g key={k} className={k === 0 ? 'paired-first' : 'paired-second'}>
          <path className="paired-paw" d={curve(curves.fromAlignedS, curves.leadPawM, paw)} />
          <path className="paired-board" d={curve(curves.fromAlignedS, curves.boardAngleDeg, angle)} />
        </g>
      ))}
      <line className="chart-edge" x1={x(0)} x2={x(0)} y1={4} y2={HEIGHT_PX - BELOW_PX} />
      {shownS === null ? null : (
        <line className="paired-shown" x1={x(shownS)} x2={x(shownS)} y1={4} y2={HEIGHT_PX - BELOW_PX} />
      )}
      {x.ticks(8).map((s) => (
        <text key={s} className="chart-quiet" x={x(s)} y={HEIGHT_PX - 8} textAnchor="middle">
          {s === 0 ? alignedOn : `${s > 0 ? '+' : ''}${fixed(s, 1)} s`}
        </text>
      ))}
    </svg>
  )
}

function extent(values: readonly (number | null)[]): [number, number] {
  const known = values.filter((value) => value !== null)
  return known.length === 0 ? [-1, 1] : [Math.min(0, ...known), Math.max(0, ...known)]
}

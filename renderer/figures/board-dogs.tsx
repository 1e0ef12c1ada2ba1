import type { DogFeel } from '../../analysis/board-physics/feel.ts'
import { fixed } from '../../analysis/words/in-words.ts'

const WIDTH = 1000
const LEFT = 90
const RIGHT = 830
const ROW = 26
const TOP = 24

export interface BoardDogsProps {
  readonly lengthM: number
  readonly contactM: number
  readonly dogs: readonly DogFeel[]
}

/** Dogs of several weights along the plank, each where it tips the board, and how long the board falls with it. */
export function BoardDogs({ lengthM, contactM, dogs }: BoardDogsProps) {
  // From the pivot to the exit end: no dog tips the board before the pivot.
  const x = (alongM: number) => LEFT + ((alongM - lengthM / 2) / (lengthM / 2)) * (RIGHT - LEFT)
  const bottom = TOP + dogs.length * ROW
  return (
    <svg
      className="ride-chart-figure"
      viewBox={`0 0 ${WIDTH} ${bottom + 30}`}
      role="img"
      aria-label="Where dogs of several weights tip the board, and how long it falls"
    >
      <rect
        className="chart-zone"
        x={x(lengthM - contactM)}
        y={TOP}
        width={RIGHT - x(lengthM - contactM)}
        height={bottom - TOP}
      />
      <line className="chart-pivot" x1={LEFT} x2={LEFT} y1={TOP} y2={bottom} />
      <text className="chart-quiet" x={WIDTH - 8} y={TOP - 8} textAnchor="end">
        lands after
      </text>
      {dogs.map(({ massKg, tipAtM, fallS }, k) => {
        const y = TOP + k * ROW + ROW - 8
        return (
          <g key={massKg}>
            <text className="chart-quiet" x={LEFT - 14} y={y} textAnchor="end">{`${massKg} kg`}</text>
            <line className="chart-level" x1={LEFT} x2={RIGHT} y1={y + 4} y2={y + 4} />
            {tipAtM.kind === 'measured' && (
              <g>
                <line className="board-range" x1={x(tipAtM.ci95[0])} x2={x(tipAtM.ci95[1])} y1={y + 4} y2={y + 4} />
                <g transform={`translate(${x(tipAtM.value)} ${y + 4}) scale(${0.42 + 0.17 * Math.cbrt(massKg)})`}>
                  <path className="board-dog" d={DOG} />
                </g>
              </g>
            )}
            {tipAtM.kind !== 'measured' && (
              <text className="chart-quiet" x={RIGHT - 10} y={y} textAnchor="end">
                {tipAtM.kind === 'atLeast' ? 'only near the very end, if at all' : 'does not tip it'}
              </text>
            )}
            <text className="chart-value" x={WIDTH - 8} y={y} textAnchor="end">
              {fallS.kind === 'measured' ? `${fixed(fallS.value, 2)} s` : '–'}
            </text>
          </g>
        )
      })}
      <text className="chart-quiet" x={LEFT} y={bottom + 20} textAnchor="middle">
        pivot
      </text>
      <text className="chart-quiet" x={RIGHT} y={bottom + 20} textAnchor="middle">
        exit end
      </text>
    </svg>
  )
}

/** A standing dog from the side, its paws at 0 and its body centre over it, about 30 wide. */
const DOG =
  'M-15 -18 Q-14 -20 -11 -19 L7 -19 L10 -25 L12 -25 L13 -22 L18 -20 L17 -17 L12 -16 L10 -12 L10 0 L7 0 L6 -9 L-7 -9 L-8 0 L-11 0 L-11 -13 L-13 -15 L-18 -22 L-17 -23 Z'

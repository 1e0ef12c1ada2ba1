import type { BoardFeel, DogFeel } from '../../analysis/board-physics/feel.ts'
import { SHOWN_DOGS_KG } from '../../analysis/board-physics/feel.ts'
import type { Estimate } from '../../analysis/estimate.ts'
import { fixed } from '../../analysis/words/in-words.ts'
import { BoardSign } from './board-sign.tsx'

const WIDTH = 1000
const LEFT = 90
const RIGHT = 760
const NAME = 340
/** Where the times of each board end, and its sign. */
const FALLS = [890, 980] as const
const SIGNS = [0, 4] as const
const ROW = 34
const TOP = 56

/** A board's name with how it feels; places are told from the pivot, so that planks of other lengths compare. */
export interface FeltBoard {
  readonly name: string
  readonly lengthM: number
  readonly feel: BoardFeel
}

/** Two boards laid over one another: where each tips under dogs of several weights, and how long it falls. */
export function TwoBoards({ boards }: { readonly boards: readonly [FeltBoard, FeltBoard] }) {
  const halfM = Math.max(...boards.map(({ lengthM }) => lengthM)) / 2
  const x = (fromPivotM: number) => LEFT + (fromPivotM / halfM) * (RIGHT - LEFT)
  const bottom = TOP + SHOWN_DOGS_KG.length * ROW
  return (
    <svg
      className="ride-chart-figure"
      viewBox={`0 0 ${WIDTH} ${bottom + 30}`}
      role="img"
      aria-label={`Where dogs tip ${boards[0].name} and ${boards[1].name}, and how long each falls`}
    >
      {boards.map(({ name }, k) => (
        <g key={k}>
          <BoardSign k={SIGNS[k] ?? 0} xPx={LEFT + 6 + k * NAME} yPx={14} sizePx={5} />
          <text className="chart-value" x={LEFT + 18 + k * NAME} y={18}>
            {shortName(name)}
          </text>
          <BoardSign k={SIGNS[k] ?? 0} xPx={(FALLS[k] ?? 0) - 16} yPx={TOP - 6} sizePx={5} />
        </g>
      ))}
      <text className="chart-quiet" x={FALLS[0] - 40} y={TOP - 2} textAnchor="end">
        lands after
      </text>
      <line className="chart-pivot" x1={LEFT} x2={LEFT} y1={TOP} y2={bottom} />
      {SHOWN_DOGS_KG.map((massKg, row) => {
        const y = TOP + row * ROW + ROW / 2
        return (
          <g key={massKg}>
            <line className="chart-level" x1={LEFT} x2={RIGHT} y1={y} y2={y} />
            <text className="chart-quiet" x={LEFT - 14} y={y + 4} textAnchor="end">{`${massKg} kg`}</text>
            {boards.map(({ lengthM, feel }, k) => (
              <Place
                key={k}
                k={k === 0 ? 0 : 1}
                tipAtM={dogOf(feel, massKg)?.tipAtM}
                x={(alongM) => x(alongM - lengthM / 2)}
                y={y + (k === 0 ? -6 : 6)}
              />
            ))}
            {boards.map(({ feel }, k) => (
              <text key={k} className="chart-value" x={FALLS[k]} y={y + 4} textAnchor="end">
                {fallOf(dogOf(feel, massKg)?.fallS)}
              </text>
            ))}
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

function Place(props: {
  readonly k: 0 | 1
  readonly tipAtM: Estimate | undefined
  readonly x: (alongM: number) => number
  readonly y: number
}) {
  const { k, tipAtM, x, y } = props
  if (tipAtM?.kind !== 'measured') return null
  const [low, high] = tipAtM.ci95
  return (
    <g>
      <line className="board-range" x1={x(low)} x2={x(high)} y1={y} y2={y} />
      <BoardSign k={SIGNS[k] ?? 0} xPx={x(tipAtM.value)} yPx={y} sizePx={5} />
    </g>
  )
}

function dogOf({ dogs }: BoardFeel, massKg: number): DogFeel | undefined {
  return dogs.find((dog) => dog.massKg === massKg)
}

function fallOf(fallS: Estimate | undefined): string {
  return fallS?.kind === 'measured' ? `${fixed(fallS.value, 2)} s` : '–'
}

function shortName(name: string): string {
  return name.length <= 40 ? name : `${name.slice(0, 39)}…`
}

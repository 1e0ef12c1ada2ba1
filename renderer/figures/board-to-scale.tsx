import type { AdviceOption } from '../../analysis/board-physics/advice-option.ts'
import type { Board } from '../../analysis/board/board.ts'
import { fixed } from '../../analysis/words/in-words.ts'

const WIDTH = 560
const MARGIN = 12
const ROOM = 2
const UNDER = 50

export interface BoardToScaleProps {
  readonly board: Board
  /** deg, negative. */
  readonly restAngleDeg: number
  /** The test weight, kg, and where it lies, m along. */
  readonly test: { readonly massKg: number; readonly massAtM: number }
  /** Where a mass is to be fastened, moved to or taken off; null when none is. */
  readonly advice: AdviceOption | null
}

/** The board at rest from the side, to scale, with its sizes, the test weight on it and the advised mass under it. */
export function BoardToScale({ board, restAngleDeg, test, advice }: BoardToScaleProps) {
  const { lengthM, contactM, pivotHeightM, thicknessM = 0.04, axisBelowTopM = 0.045 } = board
  const perM = (WIDTH - 2 * MARGIN) / lengthM
  const along = (alongM: number) => (alongM - lengthM / 2) * perM
  const riseM = (lengthM / 2) * Math.sin((Math.abs(restAngleDeg) * Math.PI) / 180)
  const axisY = ROOM + 40 + riseM * perM
  const groundY = axisY + (pivotHeightM - axisBelowTopM) * perM
  const top = -axisBelowTopM * perM
  const thick = thicknessM * perM
  const part = (fromM: number, toM: number, name: string) => (
    <rect className={name} x={along(fromM)} y={top} width={along(toM) - along(fromM)} height={thick} />
  )
  const size = 0.14 * perM
  const middle = WIDTH / 2
  return (
    <svg
      className="board-figure"
      viewBox={`0 0 ${WIDTH} ${Math.ceil(groundY + UNDER)}`}
      role="img"
      aria-label="The board at rest, to scale, with its sizes"
    >
      <line className="chart-edge" x1={0} x2={WIDTH} y1={groundY} y2={groundY} />
      <path className="board-base" d={`M${middle} ${axisY} L${middle - 26} ${groundY} H${middle + 26} Z`} />
      <g transform={`translate(${middle} ${axisY}) rotate(${restAngleDeg})`}>
        {part(0, contactM, 'board-zone')}
        {part(contactM, lengthM - contactM, 'board-plank')}
        {part(lengthM - contactM, lengthM, 'board-zone')}
        <rect className="board-weight" x={along(test.massAtM) - size / 2} y={top - size} width={size} height={size} />
        <text className="chart-quiet" x={along(test.massAtM)} y={top - size - 8} textAnchor="middle">
          {`test weight ${fixed(test.massKg, 2)} kg`}
        </text>
        {advice !== null && (
          <g>
            <rect
              className="board-advice"
              x={along(advice.atM) - size / 2}
              y={top + thick + 2}
              width={size}
              height={size * 0.7}
            />
            <text className="chart-zone-name" x={along(advice.atM)} y={top + thick + size + 14} textAnchor="middle">
              {`${advice.doWhat === 'take-off' ? '−' : '+'}${fixed(advice.massKg, 2)} kg`}
            </text>
          </g>
        )}
        <circle className="board-axle" r={3} />
      </g>
      <text className="chart-quiet" x={middle} y={groundY + 34} textAnchor="middle">
        {`plank ${fixed(lengthM, 2)} m  ·  zones ${fixed(contactM, 3)} m  ·  ${fixed(pivotHeightM, 2)} m high at the pivot`}
      </text>
    </svg>
  )
}

import { USUAL_BOARD } from '../../analysis/rules/rule-sets.ts'

const WIDTH = 480
const HEIGHT = 200
const PX_PER_M = 100
const PLANK_PX = 6
const GROUND_Y = 168
const WEIGHT_PX = 15

/** How the picture of a drop test should look: the whole board from the side, the weight placed, the hand on its way off. */
export function DropInPicture() {
  const { lengthM, contactM, pivotHeightM } = USUAL_BOARD
  const half = (lengthM / 2) * PX_PER_M
  const zone = contactM * PX_PER_M
  const axisY = GROUND_Y - pivotHeightM * PX_PER_M
  const restDeg = (-180 / Math.PI) * Math.asin(pivotHeightM / (lengthM / 2))
  const weightX = half - zone / 2
  const part = (from: number, to: number, name: string) => (
    <rect className={name} x={from} y={-PLANK_PX} width={to - from} height={PLANK_PX} />
  )
  return (
    <svg
      className="board-figure"
      viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
      role="img"
      aria-label="The whole board from the side, both ends in the picture, the weight in the middle of the down contact"
    >
      <rect className="picture-edge" x={1} y={1} width={WIDTH - 2} height={HEIGHT - 2} rx={8} />
      <line className="tip-ground" x1={14} x2={WIDTH - 14} y1={GROUND_Y} y2={GROUND_Y} />
      <path className="tip-base" d={`M${WIDTH / 2} ${axisY} l-26 ${GROUND_Y - axisY} h52 Z`} />
      <g transform={`translate(${WIDTH / 2} ${axisY}) rotate(${restDeg.toFixed(2)})`}>
        {part(-half, -half + zone, 'tip-zone')}
        {part(-half + zone, half - zone, 'tip-plank')}
        {part(half - zone, half, 'tip-zone')}
        <rect
          className="board-weight"
          x={weightX - WEIGHT_PX / 2}
          y={-PLANK_PX - WEIGHT_PX}
          width={WEIGHT_PX}
          height={WEIGHT_PX}
        />
        <path className="tip-measure" d={`M${weightX} ${-PLANK_PX - WEIGHT_PX - 6} v-14 m-4 5 l4 -5 l4 5`} />
      </g>
      <text className="tip-word" x={WIDTH / 2 + 76} y={31} textAnchor="end">
        hand away at once
      </text>
      <text className="tip-word" x={WIDTH / 2} y={GROUND_Y + 20} textAnchor="middle">
        weigh the base down
      </text>
      <text className="tip-word" x={14} y={GROUND_Y - 14}>
        entry end
      </text>
      <text className="tip-word" x={WIDTH - 22} y={GROUND_Y - 14} textAnchor="end">
        exit end
      </text>
    </svg>
  )
}

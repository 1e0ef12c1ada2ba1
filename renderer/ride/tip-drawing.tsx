import type { SeesawPose } from '../../analysis/calibration/pinhole-seesaw.ts'
import type { Board } from '../../analysis/board/board.ts'
import type { Estimate } from '../../analysis/estimate.ts'

const WIDTH = 380
const GROUND = 92
/** The plank is drawn a little thicker than it is, to be seen. */
const PLANK_PX = 6

export interface TipDrawingProps {
  readonly board: Board
  readonly pose: SeesawPose
  readonly leadPawM: Estimate
  readonly bodyM: Estimate
}

/** The board from the side as it began to tip, with the lead paw and its interval, and the body's centre. */
export function TipDrawing({ board, pose, leadPawM, bodyM }: TipDrawingProps) {
  if (leadPawM.kind !== 'measured') return null
  const { lengthM, contactM, pivotHeightM } = board
  const perM = (WIDTH - 24) / lengthM
  const axisPx = GROUND - (pivotHeightM - pose.axisBelowTopM) * perM
  const topPx = -pose.axisBelowTopM * perM
  const along = (alongM: number) => (alongM - lengthM / 2) * perM
  const part = (fromM: number, toM: number, name: string) => (
    <rect className={name} x={along(fromM)} y={topPx} width={along(toM) - along(fromM)} height={PLANK_PX} />
  )
  const [lowM, highM] = leadPawM.ci95
  const leadPx = along(leadPawM.value)
  const bodyPx = bodyM.kind === 'measured' ? along(bodyM.value) : null
  // The words stand aside from each other when both lie close together.
  const isBodyBehind = bodyPx !== null && bodyPx <= leadPx
  return (
    <svg className="tip-drawing" viewBox={`0 0 ${WIDTH} ${GROUND + 6}`} aria-hidden="true">
      <line className="ground" x1="2" x2={WIDTH - 2} y1={GROUND} y2={GROUND} />
      <path className="base" d={`M${WIDTH / 2},${axisPx} l${-0.2 * perM},${GROUND - axisPx} h${0.4 * perM} Z`} />
      <g transform={`translate(${WIDTH / 2} ${axisPx}) rotate(${(pose.restAngleRad * 180) / Math.PI})`}>
        {part(0, contactM, 'zone')}
        {part(contactM, lengthM - contactM, 'middle')}
        {part(lengthM - contactM, lengthM, 'zone')}
        <line className="interval" x1={along(lowM)} x2={along(highM)} y1={topPx - 3} y2={topPx - 3} />
        <circle className="lead-paw" cx={leadPx} cy={topPx - 7} r={5.5} />
        <text x={leadPx + 9} y={topPx - 11}>
          lead paw
        </text>
        {bodyPx === null ? null : (
          <>
            <path className="body" d={`M${bodyPx - 6},${topPx - 14} h12 l-6,11 Z`} />
            <text x={isBodyBehind ? bodyPx - 9 : leadPx - 9} y={topPx - 11} textAnchor="end">
              body
            </text>
          </>
        )}
      </g>
    </svg>
  )
}

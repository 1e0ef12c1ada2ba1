import type { Board } from '../../analysis/board/board.ts'
import type { SeesawPose } from '../../analysis/calibration/pinhole-seesaw.ts'
import type { Estimate } from '../../analysis/estimate.ts'

const WIDTH = 380
/** The plank is drawn a little thicker than it is, to be seen. */
const PLANK_PX = 6
/** Over the exit end stand words. */
const ROOM_PX = 22

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
  const sin = Math.sin(pose.restAngleRad)
  const cos = Math.cos(pose.restAngleRad)
  const along = (alongM: number) => (alongM - lengthM / 2) * perM
  const topPx = -pose.axisBelowTopM * perM
  const axisPx = ROOM_PX + Math.max(0, -sin) * (lengthM / 2) * perM + PLANK_PX
  const groundPx = axisPx + (pivotHeightM - pose.axisBelowTopM) * perM
  /** Where a place beside the turned plank lies in the drawing. */
  const place = (xPx: number, yPx: number) => ({
    x: WIDTH / 2 + xPx * cos - yPx * sin,
    y: axisPx + xPx * sin + yPx * cos,
  })
  const part = (fromM: number, toM: number, name: string) => (
    <rect className={name} x={along(fromM)} y={topPx} width={along(toM) - along(fromM)} height={PLANK_PX} />
  )
  const [lowM, highM] = leadPawM.ci95
  const leadPx = along(leadPawM.value)
  const bodyPx = bodyM.kind === 'measured' ? along(bodyM.value) : null
  const leadWords = place(leadPx, topPx - 18)
  const bodyWords = bodyPx === null ? null : place(Math.min(bodyPx, leadPx) - 10, topPx - 12)
  return (
    <svg className="tip-drawing" viewBox={`0 0 ${WIDTH} ${groundPx + 3}`} aria-hidden="true">
      <line className="ground" x1="2" x2={WIDTH - 2} y1={groundPx} y2={groundPx} />
      <path className="base" d={`M${WIDTH / 2},${axisPx} l${-0.2 * perM},${groundPx - axisPx} h${0.4 * perM} Z`} />
      <g transform={`translate(${WIDTH / 2} ${axisPx}) rotate(${(pose.restAngleRad * 180) / Math.PI})`}>
        {part(0, contactM, 'zone')}
        {part(contactM, lengthM - contactM, 'middle')}
        {part(lengthM - contactM, lengthM, 'zone')}
        <line className="interval" x1={along(lowM)} x2={along(highM)} y1={topPx - 3} y2={topPx - 3} />
        <circle className="lead-paw" cx={leadPx} cy={topPx - 7} r={5.5} />
        {bodyPx === null ? null : <path className="body" d={`M${bodyPx - 6},${topPx - 14} h12 l-6,11 Z`} />}
      </g>
      <text {...leadWords} textAnchor="middle">
        lead paw
      </text>
      {bodyWords === null ? null : (
        <text {...bodyWords} textAnchor="end">
          body
        </text>
      )}
    </svg>
  )
}

import type { Board } from '../../analysis/board/board.ts'
import type { Estimate } from '../../analysis/estimate.ts'
import { placeInWords } from '../../analysis/words/in-words.ts'
import type { Units } from '../../analysis/words/units.ts'

const WIDTH = 440
/** The plank is drawn a little thicker than it is, to be seen. */
const PLANK_PX = 7
/** Over the exit end stand words, under the ground the names of the ends. */
const ROOM_PX = 20
const NAMES_PX = 20

export interface TipDrawingProps {
  readonly board: Board
  readonly pose: {
    readonly restAngleRad: number
    readonly groundedAngleRad: number
    readonly axisBelowTopM: number
  }
  readonly leadPawM: Estimate
  readonly bodyM: Estimate
  readonly units?: Units
  /** `full`: also where the board lands, how far the paw was from the pivot, and the ends by name. */
  readonly size: 'full' | 'small'
}

/**
 * The board from the side as it began to tip, with the lead paw and its interval, and the body's centre. Travel is left
 * to right, whatever the clip shows. Nothing where the lead paw is not known.
 */
export function TipDrawing({ board, pose, leadPawM, bodyM, units = 'metric', size }: TipDrawingProps) {
  if (leadPawM.kind !== 'measured') return null
  const { lengthM, contactM, pivotHeightM } = board
  const perM = (WIDTH - 24) / lengthM
  const along = (alongM: number) => (alongM - lengthM / 2) * perM
  const topPx = -pose.axisBelowTopM * perM
  const axisPx = ROOM_PX + Math.abs(Math.sin(pose.restAngleRad)) * (lengthM / 2) * perM + PLANK_PX
  const groundPx = axisPx + (pivotHeightM - pose.axisBelowTopM) * perM
  const heightPx = groundPx + (size === 'full' ? NAMES_PX : 3)
  /** Where a place beside the turned plank lies in the drawing. */
  const place = (xPx: number, yPx: number) => ({
    x: WIDTH / 2 + xPx * Math.cos(pose.restAngleRad) - yPx * Math.sin(pose.restAngleRad),
    y: axisPx + xPx * Math.sin(pose.restAngleRad) + yPx * Math.cos(pose.restAngleRad),
  })
  const part = (fromM: number, toM: number, name: string) => (
    <rect className={name} x={along(fromM)} y={topPx} width={along(toM) - along(fromM)} height={PLANK_PX} />
  )
  const turned = (angleRad: number) => `translate(${WIDTH / 2} ${axisPx}) rotate(${(angleRad * 180) / Math.PI})`
  const [lowM, highM] = leadPawM.ci95
  const leadPx = along(leadPawM.value)
  const bodyPx = bodyM.kind === 'measured' ? along(bodyM.value) : null
  const measurePx = topPx + PLANK_PX + 14
  return (
    <svg
      className="tip-drawing"
      viewBox={`0 0 ${WIDTH} ${heightPx.toFixed(1)}`}
      {...(size === 'full'
        ? { role: 'img', 'aria-label': 'The board from the side as it began to tip' }
        : { 'aria-hidden': true })}
    >
      <line className="tip-ground" x1="2" x2={WIDTH - 2} y1={groundPx} y2={groundPx} />
      <path className="tip-base" d={`M${WIDTH / 2},${axisPx} l${-0.2 * perM},${groundPx - axisPx} h${0.4 * perM} Z`} />
      {size === 'full' ? <g transform={turned(pose.groundedAngleRad)}>{part(0, lengthM, 'tip-landed')}</g> : null}
      <g transform={turned(pose.restAngleRad)}>
        {part(0, contactM, 'tip-zone')}
        {part(contactM, lengthM - contactM, 'tip-plank')}
        {part(lengthM - contactM, lengthM, 'tip-zone')}
        <line className="tip-interval" x1={along(lowM)} x2={along(highM)} y1={topPx - 3} y2={topPx - 3} />
        <circle className="tip-lead" cx={leadPx} cy={topPx - 7} r={5.5} />
        {bodyPx === null ? null : <path className="tip-body" d={`M${bodyPx - 6},${topPx - 14} h12 l-6,11 Z`} />}
        {size === 'full' ? (
          <path
            className="tip-measure"
            d={`M0,${measurePx - 4} v8 M${leadPx},${measurePx - 4} v8 M0,${measurePx} H${leadPx}`}
          />
        ) : null}
      </g>
      <text className="tip-word" {...place(leadPx, topPx - 18)} textAnchor="middle">
        lead paw
      </text>
      {bodyPx === null ? null : (
        <text className="tip-word" {...place(Math.min(bodyPx, leadPx) - 10, topPx - 12)} textAnchor="end">
          body
        </text>
      )}
      {size === 'full' ? (
        <>
          <text className="tip-word" {...place(leadPx / 2 + 8, measurePx + 14)}>
            {placeInWords(leadPawM.value, lengthM, units)}
          </text>
          <text className="tip-word" x="4" y={groundPx + 16}>
            entry end
          </text>
          <text className="tip-word" x={WIDTH - 4} y={groundPx + 16} textAnchor="end">
            exit end
          </text>
        </>
      ) : null}
    </svg>
  )
}

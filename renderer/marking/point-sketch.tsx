import { type Moment, type PointName, shareAlong } from './mark-point.ts'

export interface PointSketchProps {
  readonly moment: Moment
  readonly name: PointName
  readonly contactShare: number
  readonly travel: 'to-right' | 'to-left'
}

const HALF = 23
const TILT_DEG = 15

/** A small drawing of the plank with a ring where the point is. */
export function PointSketch({ moment, name, contactShare, travel }: PointSketchProps) {
  const way = travel === 'to-right' ? 1 : -1
  const tilt = (moment === 'rest' ? -1 : 1) * way * TILT_DEG
  const at = way * (shareAlong(name, contactShare) * 2 - 1) * HALF
  const zone = contactShare * 2 * HALF
  return (
    <svg className="point-sketch" viewBox="-30 -16 60 32" aria-hidden="true">
      <path d="M0 1 L6 13 L-6 13 Z" className="foot" />
      <g transform={`rotate(${tilt})`}>
        <rect x={-HALF} y="-1.5" width={2 * HALF} height="3" className="plank" />
        <rect x={-HALF} y="-1.5" width={zone} height="3" className="zone" />
        <rect x={HALF - zone} y="-1.5" width={zone} height="3" className="zone" />
        <circle cx={at} cy="-1.5" r="4.2" className="ring" />
      </g>
    </svg>
  )
}

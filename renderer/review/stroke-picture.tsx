import type { FrameShare, Stroke } from '../../analysis/review/review-item.ts'
import { angleDeg } from './stroke-angle.ts'

export interface StrokePictureProps {
  readonly stroke: Stroke
  readonly widthPx: number
  readonly heightPx: number
}

const HEAD_PX = 13

/** One stroke over a picture of this size. */
export function StrokePicture({ stroke, widthPx, heightPx }: StrokePictureProps) {
  const at = ({ xShare, yShare }: FrameShare): readonly [number, number] => [xShare * widthPx, yShare * heightPx]
  const points = stroke.points.map(at)
  const line = points.map(([x, y]) => `${x.toFixed(1)},${y.toFixed(1)}`).join(' ')
  const [first, second] = points
  const last = points.at(-1)
  return (
    <g className="stroke">
      <polyline className="stroke-casing" points={line} />
      <polyline className="stroke-line" points={line} />
      {stroke.shape === 'arrow' && first !== undefined && last !== undefined ? (
        <polygon className="stroke-head" points={arrowHead(first, last)} />
      ) : null}
      {stroke.shape === 'angle' && points.length === 3 && second !== undefined ? (
        <text className="stroke-angle" x={second[0] + 10} y={second[1] - 10}>
          {Math.round(angleDeg(points))}°
        </text>
      ) : null}
    </g>
  )
}

function arrowHead([fromX, fromY]: readonly [number, number], [toX, toY]: readonly [number, number]): string {
  const length = Math.hypot(toX - fromX, toY - fromY) || 1
  const [alongX, alongY] = [(toX - fromX) / length, (toY - fromY) / length]
  const corner = (back: number, side: number) =>
    `${(toX - alongX * back - alongY * side).toFixed(1)},${(toY - alongY * back + alongX * side).toFixed(1)}`
  return [corner(-2, 0), corner(HEAD_PX, HEAD_PX / 2), corner(HEAD_PX, -HEAD_PX / 2)].join(' ')
}

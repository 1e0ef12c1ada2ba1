import type { ImagePx } from '../../analysis/geometry/points.ts'
import type { FitDrawing } from './fit.ts'
import { screenFromImage, type View } from './view.ts'

export interface FitLinesProps {
  readonly drawing: FitDrawing
  readonly view: View
}

/** The fitted seesaw, thin over the picture: near edge, faces, zones and the way from the pivot to the ground. */
export function FitLines({ drawing, view }: FitLinesProps) {
  const path = (points: readonly ImagePx[]): string =>
    points
      .map((point, index) => {
        const { leftPx, topPx } = screenFromImage(view, point)
        return `${index === 0 ? 'M' : 'L'}${leftPx.toFixed(2)} ${topPx.toFixed(2)}`
      })
      .join(' ')
  return (
    <g className="fit-lines">
      <path className="face" d={`${path(drawing.top)} Z`} />
      <path className="face" d={`${path(drawing.side)} Z`} />
      <path className="foot" d={path(drawing.foot)} />
      <path className="edge" d={path(drawing.edge)} />
      {drawing.zones.map((zone, index) => (
        <path key={index === 0 ? 'up' : 'down'} className="zone" d={path(zone)} />
      ))}
    </g>
  )
}

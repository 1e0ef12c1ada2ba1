import type { ImagePx } from '../../analysis/geometry/points.ts'
import { FitLines } from './fit-lines.tsx'
import type { FitDrawing } from './fit.ts'
import type { SizePx } from './view.ts'

export interface MagnifierProps {
  /** What it looks at. */
  readonly at: ImagePx
  readonly picture: SizePx
  readonly source: string | null
  readonly drawing: FitDrawing | null
  /** Where it stands in the viewer: never over what it shows. */
  readonly side: 'left' | 'right'
  readonly sizePx: number
}

const ZOOM = 8

/** A round glass over the picture: single pixels around a place, with a cross on it. */
export function Magnifier({ at, picture, source, drawing, side, sizePx }: MagnifierProps) {
  const half = sizePx / 2
  const view = { zoom: ZOOM, offsetXPx: half - ZOOM * at.xPx, offsetYPx: half - ZOOM * at.yPx }
  return (
    <div className="magnifier" data-side={side} aria-hidden="true" style={{ width: sizePx, height: sizePx }}>
      {source === null ? null : (
        <img
          src={source}
          alt=""
          style={{
            width: picture.widthPx,
            height: picture.heightPx,
            transform: `translate(${view.offsetXPx}px, ${view.offsetYPx}px) scale(${ZOOM})`,
          }}
        />
      )}
      <svg viewBox={`0 0 ${sizePx} ${sizePx}`}>
        {drawing === null ? null : <FitLines drawing={drawing} view={view} />}
        <path
          className="cross"
          d={`M${half} 20 V${half - 6} M${half} ${half + 6} V${sizePx - 20} M20 ${half} H${half - 6} M${half + 6} ${half} H${sizePx - 20}`}
        />
      </svg>
    </div>
  )
}

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
}

const SIZE_PX = 168
const ZOOM = 8

/** A round glass over the picture: single pixels around a place, with a cross on it. */
export function Magnifier({ at, picture, source, drawing, side }: MagnifierProps) {
  const view = { zoom: ZOOM, offsetXPx: SIZE_PX / 2 - ZOOM * at.xPx, offsetYPx: SIZE_PX / 2 - ZOOM * at.yPx }
  return (
    <div className="magnifier" data-side={side} aria-hidden="true">
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
      <svg viewBox={`0 0 ${SIZE_PX} ${SIZE_PX}`}>
        {drawing === null ? null : <FitLines drawing={drawing} view={view} />}
        <path
          className="cross"
          d={`M${SIZE_PX / 2} 20 V${SIZE_PX / 2 - 6} M${SIZE_PX / 2} ${SIZE_PX / 2 + 6} V${SIZE_PX - 20} M20 ${SIZE_PX / 2} H${SIZE_PX / 2 - 6} M${SIZE_PX / 2 + 6} ${SIZE_PX / 2} H${SIZE_PX - 20}`}
        />
      </svg>
    </div>
  )
}

import type { View } from '../../analysis/clip/frame.ts'
import type { FrameDrawing } from '../../analysis/drawing/frame-drawing.ts'
import { FrameMarks } from './frame-marks.tsx'

export interface StillPictureProps {
  /** Of the picture: a data address on a page of its own. */
  readonly href: string
  readonly label: string
  /** Where the picture lies in the full frame. */
  readonly view: View
  /** null where the plank was not followed in this frame. */
  readonly drawing: FrameDrawing | null
}

/** As wide as a still is drawn, px: what is drawn on it has the strength that suits it. */
const WIDTH_PX = 560

/** A real frame of the clip with the measurement drawn over it as lines, which stay sharp at any size. */
export function StillPicture({ href, label, view, drawing }: StillPictureProps) {
  const heightPx = (WIDTH_PX * view.heightPx) / view.widthPx
  const perPx = (WIDTH_PX * view.scale) / view.widthPx
  return (
    <svg className="still-picture" viewBox={`0 0 ${WIDTH_PX} ${heightPx.toFixed(1)}`} role="img" aria-label={label}>
      <image href={href} width={WIDTH_PX} height={heightPx} preserveAspectRatio="none" />
      {drawing === null ? null : (
        <FrameMarks drawing={drawing} originXPx={view.originXPx} originYPx={view.originYPx} perPx={perPx} />
      )}
    </svg>
  )
}

import type { RideFootfall } from '../../analysis/ride/ride.ts'
import type { Settings } from '../../main/contract/settings.ts'
import { FrameMarks } from '../figures/frame-marks.tsx'
import { type OverlayPicture, overlayDrawing } from './overlay-drawing.ts'

export interface PlankOverlayProps {
  readonly picture: OverlayPicture
  /** Element of the picture's arrays. */
  readonly element: number
  readonly footfalls: readonly RideFootfall[]
  readonly shows: Settings['overlays']
  /** Size of the clip's pictures, and how wide they are shown, px. */
  readonly clipWidthPx: number
  readonly clipHeightPx: number
  readonly shownWidthPx: number
}

/** What was measured, drawn thin on the frame that is shown. */
export function PlankOverlay(props: PlankOverlayProps) {
  const { picture, element, footfalls, shows, clipWidthPx, clipHeightPx, shownWidthPx } = props
  const drawing = overlayDrawing(picture, element, footfalls)
  if (drawing === null || shownWidthPx <= 0) return null
  const perPx = shownWidthPx / clipWidthPx
  return (
    <svg className="overlay" viewBox={`0 0 ${shownWidthPx} ${clipHeightPx * perPx}`} aria-hidden="true">
      <FrameMarks drawing={drawing.frame} extent={drawing.dog} shows={shows} perPx={perPx} />
    </svg>
  )
}

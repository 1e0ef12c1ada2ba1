import './viewer.css'
import { type ReactNode, useState } from 'react'
import { alongInFrame } from '../../analysis/drawing/frame-drawing.ts'
import type { ImagePx } from '../../analysis/geometry/points.ts'
import type { RideFootfall } from '../../analysis/ride/ride.ts'
import { fixed } from '../../analysis/words/in-words.ts'
import type { Settings } from '../../main/contract/settings.ts'
import { Button } from '../look/button.tsx'
import { Notice } from '../look/notice.tsx'
import { degreesFromRad, degreesInWords } from '../words/moments.ts'
import { FilmBar } from './film-bar.tsx'
import { FramePicture } from './frame-picture.tsx'
import type { Overlay } from './overlays.ts'
import type { OverlayPicture } from './overlay-drawing.ts'
import { PlankOverlay } from './plank-overlay.tsx'
import { PicturesProgress, usePictures } from './pictures-progress.tsx'
import { SPEEDS } from './speed-choice.tsx'
import { useClipFrames } from './use-clip-frames.ts'
import { useFrames } from './use-frames.ts'
import { usePlay } from './use-play.ts'

export interface FrameViewerProps {
  readonly clipId: string
  readonly clipWidthPx: number
  readonly clipHeightPx: number
  /** The clip's frame of each element of the ride. */
  readonly frameIndex: readonly number[]
  readonly picture: OverlayPicture
  readonly footfalls: readonly RideFootfall[]
  /** Which of the ride's frames is shown. */
  readonly element: number
  readonly onElement: (element: number) => void
  readonly onStep: (frames: number) => void
  readonly isPlaying: boolean
  /** Plays, or stops. */
  readonly onPlay: () => void
  readonly overlays: Settings['overlays']
  readonly onOverlay: (overlay: Overlay) => void
  /** Called with a place along the plank, m, that is pointed at in the picture; null: pointing does nothing. */
  readonly onPoint: ((alongM: number) => void) | null
  /** Laid over the picture of the element that is shown. */
  readonly layer?: (shown: number) => ReactNode
}

/** The film of the ride, frame by frame, with what was measured drawn on it. */
export function FrameViewer(props: FrameViewerProps) {
  const { clipId, clipWidthPx, clipHeightPx, frameIndex, picture, footfalls, element, onElement } = props
  const { onStep, isPlaying, onPlay, overlays, onOverlay, onPoint, layer } = props
  const [speed, setSpeed] = useState<number>(SPEEDS[1])
  const pictures = usePictures(clipId)
  const load = useClipFrames(clipId, frameIndex)
  const frames = useFrames(load, frameIndex.length, element, pictures.kind === 'ready')
  usePlay(isPlaying, { ptsS: picture.ptsS, element, speed, onElement, onEnd: onPlay })
  // What is drawn over a picture belongs to that picture: until the wanted one has come, to the last one.
  const [shown, setShown] = useState(element)
  if (frames.picture !== null && shown !== element) setShown(element)
  const point = (at: ImagePx): void => {
    const alongM = alongInFrame(picture, shown)?.(at)
    if (alongM !== undefined && Number.isFinite(alongM)) onPoint?.(alongM)
  }
  return (
    <section className="frame-viewer" aria-label="Film of the ride">
      <div className="frame-place">
        <FramePicture
          picture={frames.picture}
          label={`Frame ${frameIndex[shown] ?? 0} of the clip`}
          widthPx={clipWidthPx}
          heightPx={clipHeightPx}
          onPoint={onPoint === null ? null : point}
        >
          {(shownWidthPx) => (
            <>
              <PlankOverlay
                picture={picture}
                element={shown}
                footfalls={footfalls}
                shows={overlays}
                clipWidthPx={clipWidthPx}
                clipHeightPx={clipHeightPx}
                shownWidthPx={shownWidthPx}
              />
              {layer?.(shown)}
              <FrameFacts picture={picture} element={shown} frame={frameIndex[shown] ?? 0} />
              <PicturesProgress state={pictures} />
            </>
          )}
        </FramePicture>
        {frames.hasFailed ? (
          <div className="frame-failed">
            <Notice tone="bad" actions={<Button onPress={frames.retry}>Try again</Button>}>
              This picture could not be loaded. If the clip has moved, find it in its set-up.
            </Notice>
          </div>
        ) : null}
      </div>
      <FilmBar
        isPlaying={isPlaying}
        onPlay={onPlay}
        onStep={onStep}
        speed={speed}
        onSpeed={setSpeed}
        overlays={overlays}
        onOverlay={onOverlay}
      />
    </section>
  )
}

function FrameFacts(props: { readonly picture: OverlayPicture; readonly element: number; readonly frame: number }) {
  const { picture, element, frame } = props
  const angleRad = picture.angleRad[element] ?? NaN
  return (
    <p className="frame-facts">
      <span>{fixed(picture.ptsS[element] ?? 0, 3)} s</span>
      <span>frame {frame}</span>
      <span>
        {Number.isNaN(angleRad) ? 'board not followed here' : `board ${degreesInWords(degreesFromRad(angleRad))}`}
      </span>
    </p>
  )
}

import './viewer.css'
import { ChevronFirst, ChevronLast, Pause, Play, StepBack, StepForward } from 'lucide-react'
import { useState } from 'react'
import { ToggleButton, Toolbar, Tooltip, TooltipTrigger } from 'react-aria-components'
import type { RideFootfall } from '../../analysis/ride/ride.ts'
import { fixed } from '../../analysis/words/in-words.ts'
import type { Settings } from '../../main/contract/settings.ts'
import { Button, IconButton } from '../look/button.tsx'
import { Notice } from '../look/notice.tsx'
import { degreesFromRad, degreesInWords } from '../words/moments.ts'
import { FramePicture } from './frame-picture.tsx'
import type { OverlayPicture } from './overlay-drawing.ts'
import { PlankOverlay } from './plank-overlay.tsx'
import { PicturesProgress, usePictures } from './pictures-progress.tsx'
import { SPEEDS, SpeedChoice } from './speed-choice.tsx'
import { useFrames } from './use-frames.ts'
import { usePlay } from './use-play.ts'

export type Overlay = keyof Settings['overlays']

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
  readonly isPlaying: boolean
  readonly onPlaying: (isPlaying: boolean) => void
  readonly overlays: Settings['overlays']
  readonly onOverlay: (overlay: Overlay) => void
}

/** The film of the ride, frame by frame, with what was measured drawn on it. */
export function FrameViewer(props: FrameViewerProps) {
  const { clipId, clipWidthPx, clipHeightPx, frameIndex, picture, footfalls, element, onElement } = props
  const { isPlaying, onPlaying, overlays, onOverlay } = props
  const [speed, setSpeed] = useState<number>(SPEEDS[1])
  const pictures = usePictures(clipId)
  const frames = useFrames(clipId, frameIndex, element, pictures.kind === 'ready')
  usePlay(isPlaying, { ptsS: picture.ptsS, element, speed, onElement, onEnd: () => onPlaying(false) })
  // What is drawn over a picture belongs to that picture: until the wanted one has come, to the last one.
  const [shown, setShown] = useState(element)
  if (frames.picture !== null && shown !== element) setShown(element)
  const last = frameIndex.length - 1
  const step = (by: number): void => {
    onPlaying(false)
    onElement(Math.min(last, Math.max(0, element + by)))
  }
  return (
    <section className="frame-viewer" aria-label="Film of the ride">
      <div className="frame-place">
        <FramePicture
          picture={frames.picture}
          label={`Frame ${frameIndex[shown] ?? 0} of the clip`}
          widthPx={clipWidthPx}
          heightPx={clipHeightPx}
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
              <FrameFacts picture={picture} element={shown} frame={frameIndex[shown] ?? 0} />
              <PicturesProgress state={pictures} />
            </>
          )}
        </FramePicture>
        {frames.hasFailed ? (
          <div className="frame-failed">
            <Notice tone="bad" actions={<Button onPress={frames.retry}>Try again</Button>}>
              This picture could not be fetched. If the clip was moved, find it again from its set-up.
            </Notice>
          </div>
        ) : null}
      </div>
      <Toolbar className="viewer-bar" aria-label="Film">
        <IconButton label="Ten frames back" shortcut="Shift+←" onPress={() => step(-10)}>
          <ChevronFirst aria-hidden="true" />
        </IconButton>
        <IconButton label="One frame back" shortcut="←" onPress={() => step(-1)}>
          <StepBack aria-hidden="true" />
        </IconButton>
        <IconButton
          label={isPlaying ? 'Stop' : 'Play'}
          shortcut="Space"
          onPress={() => {
            if (!isPlaying && element === last) onElement(0)
            onPlaying(!isPlaying)
          }}
        >
          {isPlaying ? <Pause aria-hidden="true" /> : <Play aria-hidden="true" />}
        </IconButton>
        <IconButton label="One frame on" shortcut="→" onPress={() => step(1)}>
          <StepForward aria-hidden="true" />
        </IconButton>
        <IconButton label="Ten frames on" shortcut="Shift+→" onPress={() => step(10)}>
          <ChevronLast aria-hidden="true" />
        </IconButton>
        <SpeedChoice speed={speed} onSpeed={setSpeed} />
        <span className="viewer-gap" />
        {OVERLAYS.map(({ overlay, name, about, shortcut }) => (
          <TooltipTrigger key={overlay} delay={500}>
            <ToggleButton className="overlay-toggle" isSelected={overlays[overlay]} onChange={() => onOverlay(overlay)}>
              <span className="overlay-sign" data-overlay={overlay} aria-hidden="true" />
              {name}
            </ToggleButton>
            <Tooltip offset={6}>
              {about} ({shortcut})
            </Tooltip>
          </TooltipTrigger>
        ))}
      </Toolbar>
    </section>
  )
}

/** What is drawn over the picture, with the key that turns it on and off. */
export const OVERLAYS: readonly {
  readonly overlay: Overlay
  readonly name: string
  readonly about: string
  readonly shortcut: string
}[] = [
  { overlay: 'plank', name: 'Plank', about: 'The near top edge of the plank, and its pivot', shortcut: 'B' },
  { overlay: 'zones', name: 'Zones', about: 'The contact zones', shortcut: 'Z' },
  { overlay: 'paws', name: 'Paws', about: 'The paws that stand in this frame: front full, hind hollow', shortcut: 'P' },
  { overlay: 'dog', name: 'Dog', about: 'From its rearmost to its foremost paw, and its body', shortcut: 'D' },
]

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

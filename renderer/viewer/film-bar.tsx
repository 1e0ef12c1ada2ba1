import { ChevronFirst, ChevronLast, Pause, Play, StepBack, StepForward } from 'lucide-react'
import { memo } from 'react'
import { ToggleButton, Toolbar, Tooltip, TooltipTrigger } from 'react-aria-components'
import type { Settings } from '../../main/contract/settings.ts'
import { IconButton } from '../look/button.tsx'
import { type Overlay, OVERLAYS } from './overlays.ts'
import { SpeedChoice } from './speed-choice.tsx'

export interface FilmBarProps {
  readonly isPlaying: boolean
  readonly onPlay: () => void
  readonly onStep: (frames: number) => void
  readonly speed: number
  readonly onSpeed: (speed: number) => void
  readonly overlays: Settings['overlays']
  readonly onOverlay: (overlay: Overlay) => void
}

/** Steps, plays, and says what is drawn on the film. */
export const FilmBar = memo(function FilmBar(props: FilmBarProps) {
  const { isPlaying, onPlay, onStep, speed, onSpeed, overlays, onOverlay } = props
  return (
    <Toolbar className="viewer-bar" aria-label="Film">
      <IconButton label="Ten frames back" shortcut="Shift+←" onPress={() => onStep(-10)}>
        <ChevronFirst aria-hidden="true" />
      </IconButton>
      <IconButton label="Previous frame" shortcut="←" onPress={() => onStep(-1)}>
        <StepBack aria-hidden="true" />
      </IconButton>
      <IconButton label={isPlaying ? 'Pause' : 'Play'} shortcut="Space" onPress={onPlay}>
        {isPlaying ? <Pause aria-hidden="true" /> : <Play aria-hidden="true" />}
      </IconButton>
      <IconButton label="Next frame" shortcut="→" onPress={() => onStep(1)}>
        <StepForward aria-hidden="true" />
      </IconButton>
      <IconButton label="Ten frames forward" shortcut="Shift+→" onPress={() => onStep(10)}>
        <ChevronLast aria-hidden="true" />
      </IconButton>
      <SpeedChoice speed={speed} onSpeed={onSpeed} />
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
  )
})

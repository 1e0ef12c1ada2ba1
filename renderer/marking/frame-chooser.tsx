import { ChevronLeft, ChevronRight } from 'lucide-react'
import { Label, Slider, SliderThumb, SliderTrack } from 'react-aria-components'
import { IconButton } from '../look/button.tsx'

export interface FrameChooserProps {
  readonly frame: number
  readonly frameTimesS: readonly number[]
  /** What to look for: "A frame with the board at rest". */
  readonly what: string
  readonly onChange: (frame: number) => void
}

/** Which frame of the clip is marked. */
export function FrameChooser({ frame, frameTimesS, what, onChange }: FrameChooserProps) {
  const last = frameTimesS.length - 1
  return (
    <div className="frame-chooser">
      <Slider className="slider" minValue={0} maxValue={last} value={frame} onChange={onChange}>
        <div className="frame-words">
          <Label>{what}</Label>
          <span className="soft">
            {(frameTimesS[frame] ?? 0).toFixed(2)} s, frame {frame} of {last}
          </span>
        </div>
        <SliderTrack>
          <SliderThumb />
        </SliderTrack>
      </Slider>
      <IconButton label="Previous frame" isDisabled={frame <= 0} onPress={() => onChange(frame - 1)}>
        <ChevronLeft aria-hidden="true" />
      </IconButton>
      <IconButton label="Next frame" isDisabled={frame >= last} onPress={() => onChange(frame + 1)}>
        <ChevronRight aria-hidden="true" />
      </IconButton>
    </div>
  )
}

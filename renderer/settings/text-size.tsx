import { useState } from 'react'
import { Label, Slider, SliderOutput, SliderThumb, SliderTrack } from 'react-aria-components'

export interface TextSizeProps {
  readonly scale: number
  readonly onChange: (scale: number) => void
}

/** Size of text and controls. Kept when the handle is let go: while it moves, the window must not grow under it. */
export function TextSize({ scale, onChange }: TextSizeProps) {
  const [moved, setMoved] = useState<number | null>(null)
  return (
    <Slider
      className="slider text-size"
      value={moved ?? scale}
      minValue={0.8}
      maxValue={1.6}
      step={0.1}
      formatOptions={{ style: 'percent' }}
      onChange={setMoved}
      onChangeEnd={(value) => {
        setMoved(null)
        onChange(Math.round(value * 10) / 10)
      }}
    >
      <div className="text-size-words">
        <Label>Text size</Label>
        <SliderOutput>{({ state }) => `${Math.round(100 * state.getThumbValue(0))} %`}</SliderOutput>
      </div>
      <SliderTrack>
        <SliderThumb />
      </SliderTrack>
    </Slider>
  )
}

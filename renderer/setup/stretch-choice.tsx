import { Pause, Play } from 'lucide-react'
import { useState } from 'react'
import { Label, Slider, SliderThumb, SliderTrack } from 'react-aria-components'
import type { ClipDetail, ClipSetup } from '../../main/contract/clips.ts'
import { useClient } from '../host/host-provider.tsx'
import { Button, IconButton } from '../look/button.tsx'
import { useSteadyImage } from '../look/steady-image.tsx'
import { PicturesProgress, usePictures } from '../viewer/pictures-progress.tsx'
import { usePlay } from '../viewer/use-play.ts'
import { spreadFrames } from './spread-frames.ts'
import { useSpace } from './use-space.ts'

export interface StretchChoiceProps {
  readonly clip: ClipDetail
  readonly stretch: ClipSetup['stretch']
  readonly onChange: (stretch: ClipSetup['stretch']) => void
}

const PICTURES = 12

/** The clip, to be played, and below it a strip of pictures with two handles: what lies between them is measured. */
export function StretchChoice({ clip, stretch, onChange }: StretchChoiceProps) {
  const { facts, frameTimesS, card } = clip
  const { pictureAddress } = useClient()
  const last = Math.max(1, facts.frameCount - 1)
  const [range, setRange] = useState<readonly [number, number]>([stretch?.fromFrame ?? 0, stretch?.toFrame ?? last])
  const [shownFrame, setShownFrame] = useState(range[0])
  const { shown, isFailed } = useSteadyImage(pictureAddress(card.id, shownFrame, 'frame'))
  // While the handler fills this in, the pictures for stepping are made.
  const pictures = usePictures(card.id)
  const [isPlaying, setIsPlaying] = useState(false)
  usePlay(isPlaying, {
    ptsS: frameTimesS,
    element: shownFrame,
    speed: 1,
    onElement: (frame) => {
      setShownFrame(Math.min(frame, range[1]))
      if (frame >= range[1]) setIsPlaying(false)
    },
    onEnd: () => setIsPlaying(false),
  })
  function play(): void {
    if (!isPlaying && (shownFrame >= range[1] || shownFrame < range[0])) setShownFrame(range[0])
    setIsPlaying(!isPlaying)
  }
  useSpace(play)
  const time = (frame: number): string => `${(frameTimesS[frame] ?? 0).toFixed(2)} s`
  const share = (frame: number): string => `${(frame / last) * 100}%`

  function keep([fromFrame, toFrame]: readonly [number, number]): void {
    onChange(fromFrame === 0 && toFrame === last ? null : { fromFrame, toFrame })
  }

  return (
    <figure className="stretch">
      <div className="stretch-preview" style={{ aspectRatio: `${facts.widthPx} / ${facts.heightPx}` }}>
        {shown === null ? null : <img src={shown} alt={`The clip at ${time(shownFrame)}`} />}
        {isFailed ? <p>This picture could not be read.</p> : null}
        <PicturesProgress state={pictures} />
        <span className="stretch-time">
          {time(shownFrame)}, frame {shownFrame}
        </span>
      </div>
      <Slider
        className="stretch-slider"
        minValue={0}
        maxValue={last}
        value={[...range]}
        onChange={(values) => {
          setIsPlaying(false)
          const next = [values[0] ?? 0, values[1] ?? last] as const
          setShownFrame(next[0] !== range[0] ? next[0] : next[1] !== range[1] ? next[1] : shownFrame)
          setRange(next)
        }}
        onChangeEnd={(values) => keep([values[0] ?? 0, values[1] ?? last])}
      >
        <div className="stretch-words">
          <Label>Part to measure</Label>
          <span className="soft">
            {time(range[0])} to {time(range[1])} of {facts.fileDurationS.toFixed(2)} s
          </span>
        </div>
        <SliderTrack className="strip">
          <div className="strip-pictures" aria-hidden="true">
            {spreadFrames(facts.frameCount, PICTURES).map((frame) => (
              <img key={frame} src={pictureAddress(card.id, frame, 'small')} alt="" draggable={false} />
            ))}
          </div>
          <div className="strip-out" style={{ left: 0, width: share(range[0]) }} />
          <div className="strip-in" style={{ left: share(range[0]), right: `calc(100% - ${share(range[1])})` }} />
          <div className="strip-out" style={{ left: share(range[1]), right: 0 }} />
          {[0, 1].map((index) => (
            <SliderThumb
              key={index}
              index={index}
              className="strip-handle"
              aria-label={index === 0 ? 'From frame' : 'To frame'}
              onFocus={() => setShownFrame(range[index as 0 | 1])}
            />
          ))}
        </SliderTrack>
      </Slider>
      <div className="stretch-foot">
        <IconButton label={isPlaying ? 'Pause' : 'Play'} shortcut="Space" onPress={play}>
          {isPlaying ? <Pause aria-hidden="true" /> : <Play aria-hidden="true" />}
        </IconButton>
        <p className="soft small">
          {range[0] === 0 && range[1] === last
            ? 'The whole clip. In a long clip, set the handles around the rides to measure faster.'
            : 'Leave a second before the dog gets on and after it gets off.'}
        </p>
        {range[0] === 0 && range[1] === last ? null : (
          <Button
            look="quiet"
            onPress={() => {
              setRange([0, last])
              keep([0, last])
            }}
          >
            Whole clip
          </Button>
        )}
      </div>
    </figure>
  )
}

import type { Board } from '../../analysis/board/board.ts'
import type { Loudness } from '../../analysis/drawing/sound-bars.ts'
import type { Ride } from '../../analysis/ride/ride.ts'
import type { Units } from '../../analysis/words/units.ts'
import type { ChartLayout } from './chart-layout.ts'
import { DogBand, PlankGround } from './plank-row.tsx'
import { SoundRow } from './sound-row.tsx'
import { StretchesRow } from './stretches-row.tsx'
import { TiltRow } from './tilt-row.tsx'
import { TimeAxis } from './time-axis.tsx'

export interface ChartGroundProps {
  readonly ride: Ride
  readonly board: Pick<Board, 'lengthM' | 'contactM'>
  readonly sound: Loudness | null
  readonly units: Units
  readonly layout: ChartLayout
  /** An id that no other element of the page has. */
  readonly clipId: string
}

/** All of a plank chart that nobody takes hold of: everything but the paws and the moments. */
export function ChartGround({ ride, board, sound, units, layout, clipId }: ChartGroundProps) {
  const { x, left, right, heightPx, rows } = layout
  const { tipStart, grounded } = ride.events
  return (
    <g>
      <clipPath id={clipId}>
        <rect x={left} y={0} width={right - left} height={heightPx} />
      </clipPath>
      <PlankGround board={board} layout={layout} units={units} />
      {tipStart.kind === 'measured' && grounded.kind === 'measured' && grounded.value > tipStart.value ? (
        <rect
          className="chart-fall"
          clipPath={`url(#${clipId})`}
          x={x(tipStart.value)}
          width={x(grounded.value) - x(tipStart.value)}
          y={rows.tilt.top}
          height={rows.plank.bottom - rows.tilt.top}
        />
      ) : null}
      <g clipPath={`url(#${clipId})`}>
        <DogBand frames={ride.frames} layout={layout} />
        <StretchesRow ride={ride} layout={layout} />
      </g>
      <TiltRow frames={ride.frames} layout={layout} clipId={clipId} />
      <SoundRow sound={sound} bangHeard={ride.events.bangHeard} layout={layout} />
      <TimeAxis layout={layout} />
    </g>
  )
}

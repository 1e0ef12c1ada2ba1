import type { Board } from '../../analysis/board/board.ts'
import { chartSpan } from '../../analysis/drawing/chart-span.ts'
import type { Loudness } from '../../analysis/drawing/sound-bars.ts'
import { CORRECTABLE_EVENTS } from '../../analysis/ride/corrections.ts'
import type { Ride } from '../../analysis/ride/ride.ts'
import { EVENT_NAMES } from '../../analysis/words/event-names.ts'
import type { Units } from '../../analysis/words/units.ts'
import { ChartGround } from './chart-ground.tsx'
import { chartLayout } from './chart-layout.ts'
import { EventMark, placedMoments } from './event-mark.tsx'
import { PlantedPaws } from './planted-paws.tsx'

export interface RideChartProps {
  readonly ride: Ride
  readonly board: Pick<Board, 'lengthM' | 'contactM'>
  readonly sound: Loudness | null
  readonly units?: Units
  /** An id that no other chart of the page has. */
  readonly id?: string
  readonly widthPx?: number
  readonly heightPx?: number
}

/** px of the text of a chart on a page. */
const EM_PX = 13

/** One ride in one picture, to be read and not to be changed: for pages. The window puts handles on the same parts. */
export function RideChart(props: RideChartProps) {
  const { ride, board, sound, units = 'metric', id = 'ride-chart', widthPx = 1000, heightPx = 480 } = props
  const layout = chartLayout({ widthPx, heightPx }, EM_PX, chartSpan(ride), board)
  const moments = CORRECTABLE_EVENTS.flatMap((event) => {
    const at = ride.events[event]
    return at.kind === 'measured' ? [{ key: event, word: EVENT_NAMES[event].word, at, isByHand: false }] : []
  })
  return (
    <svg
      className="ride-chart-figure"
      viewBox={`0 0 ${widthPx} ${heightPx}`}
      role="img"
      aria-label="The ride along the plank through time"
    >
      <ChartGround ride={ride} board={board} sound={sound} units={units} layout={layout} clipId={id} />
      <PlantedPaws footfalls={ride.footfalls} layout={layout} />
      {placedMoments(moments, layout).map((mark) => (
        <g key={mark.key}>
          <EventMark mark={mark} layout={layout} />
        </g>
      ))}
    </svg>
  )
}

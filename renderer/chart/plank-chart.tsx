import './chart.css'
import { memo, type PointerEvent, useId, useMemo, useRef } from 'react'
import type { Board } from '../../analysis/board/board.ts'
import type { Loudness } from '../../analysis/drawing/sound-bars.ts'
import type { Ride } from '../../analysis/ride/ride.ts'
import type { Units } from '../../analysis/words/units.ts'
import type { ChartEditing } from './chart-editing.ts'
import { ChartGround } from '../figures/chart-ground.tsx'
import { type ChartLayout, chartLayout } from '../figures/chart-layout.ts'
import { PlantedPaws } from '../figures/planted-paws.tsx'
import { chartSentence, footfallLine } from './chart-words.ts'
import { followDrag } from './drag.ts'
import { EventHandles } from './event-handles.tsx'
import { EditablePaws } from './editable-paws.tsx'
import { Playhead } from './playhead.tsx'
import { useChartRoom } from './use-chart-room.ts'

export interface PlankChartProps {
  readonly ride: Ride
  readonly board: Pick<Board, 'lengthM' | 'contactM'>
  readonly sound: Loudness | null
  /** What of the ride is shown, s. */
  readonly spanS: readonly [number, number]
  readonly units: Units
  /** The instant that is shown elsewhere as a picture, s; null for a chart alone. */
  readonly playheadS?: number | null
  readonly onSeek?: (atS: number) => void
  readonly editing?: ChartEditing | null
}

/**
 * One ride in one picture, as large as the room it is given: time runs right, the plank runs up from entry end to exit
 * end. The dog is the grey band from its rearmost to its foremost paw, planted paws are level bars; the board's tilt is
 * above, the sound below, and one line of events and one playhead go through all.
 */
export function PlankChart(props: PlankChartProps) {
  const { ride, spanS } = props
  const place = useRef<HTMLElement>(null)
  const room = useChartRoom(place)
  const { lengthM, contactM } = props.board
  const [fromS, toS] = spanS
  const layout = useMemo(
    () => (room === null ? null : chartLayout(room, room.emPx, [fromS, toS], { lengthM })),
    [room, fromS, toS, lengthM],
  )
  const board = useMemo(() => ({ lengthM, contactM }), [lengthM, contactM])
  return (
    <figure ref={place} className="plank-chart" aria-label="The ride along the plank">
      <p className="unseen">{chartSentence(ride)}</p>
      <FootfallTable ride={ride} lengthM={lengthM} units={props.units} />
      {layout === null ? null : <ChartPicture {...props} board={board} layout={layout} />}
    </figure>
  )
}

function ChartPicture(props: PlankChartProps & { readonly layout: ChartLayout }) {
  const { ride, board, sound, units, layout, playheadS = null, onSeek, editing = null } = props
  const { x, left, right, widthPx, heightPx, rows } = layout
  const clipId = useId()
  const seek = (pressed: PointerEvent<SVGElement>): void => {
    if (onSeek === undefined) return
    const { left: originPx } = pressed.currentTarget.ownerSVGElement!.getBoundingClientRect()
    onSeek(x.invert(pressed.clientX - originPx))
    editing?.onSelect(null)
    followDrag(
      pressed,
      ({ clientXPx }) => onSeek(x.invert(clientXPx - originPx)),
      () => undefined,
    )
  }
  return (
    <svg width={widthPx} height={heightPx} role="group" aria-label="Plank chart">
      <g className="chart-still" aria-hidden="true">
        <ChartGround ride={ride} board={board} sound={sound} units={units} layout={layout} clipId={clipId} />
      </g>
      <rect
        className="chart-ground"
        data-seekable={onSeek === undefined ? undefined : ''}
        x={left}
        width={right - left}
        y={rows.labels.bottom}
        height={heightPx - rows.labels.bottom}
        onPointerDown={seek}
      />
      {editing === null ? (
        <PlantedPaws footfalls={ride.footfalls} layout={layout} />
      ) : (
        <EditablePaws footfalls={ride.footfalls} layout={layout} editing={editing} />
      )}
      <EventHandles events={ride.events} layout={layout} editing={editing} />
      {playheadS === null ? null : (
        <Playhead atS={playheadS} layout={layout} {...(onSeek === undefined ? {} : { onSeek })} />
      )}
    </svg>
  )
}

/** The paw contacts for screen readers. */
const FootfallTable = memo(function FootfallTable(props: {
  readonly ride: Ride
  readonly lengthM: number
  readonly units: Units
}) {
  const { ride, lengthM, units } = props
  return (
    <table className="unseen">
      <caption>Paw contacts</caption>
      <thead>
        <tr>
          <th scope="col">Paw</th>
          <th scope="col">Where</th>
          <th scope="col">From, s</th>
          <th scope="col">To, s</th>
        </tr>
      </thead>
      <tbody>
        {ride.footfalls.map((footfall) => {
          const { limb, place, from, to } = footfallLine(footfall, lengthM, units)
          return (
            <tr key={`${footfall.fromS} ${footfall.alongM}`}>
              <td>{limb}</td>
              <td>{place}</td>
              <td>{from}</td>
              <td>{to}</td>
            </tr>
          )
        })}
      </tbody>
    </table>
  )
})

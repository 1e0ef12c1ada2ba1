import { type KeyboardEvent, memo, type PointerEvent } from 'react'
import { CORRECTABLE_EVENTS, type CorrectableEvent } from '../../analysis/ride/corrections.ts'
import type { RideEvents } from '../../analysis/ride/ride.ts'
import { EVENT_NAMES } from '../../analysis/words/event-names.ts'
import { momentWithMargin } from '../words/moments.ts'
import type { ChartEditing } from './chart-editing.ts'
import type { ChartLayout } from '../figures/chart-layout.ts'
import { EventMark, type PlacedMoment, placedMoments } from '../figures/event-mark.tsx'
import { followDrag } from './drag.ts'

export interface EventHandlesProps {
  readonly events: RideEvents
  readonly layout: ChartLayout
  readonly editing: ChartEditing | null
}

/** The moments of the ride: a line through all rows with a word on top, which is also its handle. */
export const EventHandles = memo(function EventHandles({ events, layout, editing }: EventHandlesProps) {
  const moments = CORRECTABLE_EVENTS.flatMap((event) => {
    const at = events[event]
    if (at.kind !== 'measured') return []
    const isByHand = editing?.isByHand(event) ?? false
    return [{ key: event, event, word: EVENT_NAMES[event].word, at, isByHand }]
  })
  const placed = placedMoments(moments, layout)
  // Always in the same order: a handle that is moved past another one keeps the focus.
  const inOrder = moments.flatMap(({ event }) => {
    const mark = placed.find(({ key }) => key === event)
    return mark === undefined ? [] : [{ event, mark }]
  })
  return (
    <g>
      {inOrder.map(({ event, mark }) => (
        <EventHandle key={event} event={event} mark={mark} layout={layout} editing={editing} />
      ))}
    </g>
  )
})

interface EventHandleProps {
  readonly event: CorrectableEvent
  readonly mark: PlacedMoment
  readonly layout: ChartLayout
  readonly editing: ChartEditing | null
}

function EventHandle({ event, mark, layout, editing }: EventHandleProps) {
  const { at, isByHand, xPx } = mark
  const { x, rows } = layout
  const { name } = EVENT_NAMES[event]
  const isSelected = editing?.selection?.kind === 'event' && editing.selection.event === event
  const drawing = <EventMark mark={mark} layout={layout} />
  if (editing === null) {
    return (
      <g className="chart-event" data-event={event}>
        {drawing}
      </g>
    )
  }
  const press = (pressed: PointerEvent<SVGGElement>): void => {
    pressed.stopPropagation()
    editing.onSelect({ kind: 'event', event })
    followDrag(
      pressed,
      ({ dxPx }) => editing.onMoveEvent(event, x.invert(xPx + dxPx)),
      () => editing.onRest(),
    )
  }
  const key = (pressed: KeyboardEvent): void => {
    const handled = eventKey(pressed, event, editing)
    if (!handled) return
    pressed.preventDefault()
    pressed.stopPropagation()
  }
  const [fromS, toS] = x.domain() as [number, number]
  return (
    <g
      className="chart-event"
      data-event={event}
      data-selected={isSelected || undefined}
      role="slider"
      tabIndex={0}
      aria-label={name}
      aria-valuemin={fromS}
      aria-valuemax={toS}
      aria-valuenow={at.value}
      aria-valuetext={`${momentWithMargin(at)}${isByHand ? ', set by hand' : ''}`}
      onFocus={() => editing.onSelect({ kind: 'event', event })}
      onBlur={() => editing.onRest()}
      onPointerDown={press}
      onKeyDown={key}
    >
      {drawing}
      <rect className="chart-hit" x={xPx - 6} width={12} y={rows.tilt.top} height={rows.plank.top - rows.tilt.top} />
    </g>
  )
}

/** One frame or, with Shift, a tenth of a second; Delete says that it did not happen. */
function eventKey(pressed: KeyboardEvent, event: CorrectableEvent, editing: ChartEditing): boolean {
  if (pressed.ctrlKey || pressed.metaKey || pressed.altKey) return false
  const direction = { ArrowLeft: -1, ArrowDown: -1, ArrowRight: 1, ArrowUp: 1 }[pressed.key]
  if (direction !== undefined) {
    editing.onStepEvent(
      event,
      pressed.shiftKey ? { kind: 's', byS: direction * LARGE_STEP_S } : { kind: 'frames', count: direction },
    )
    return true
  }
  if (pressed.key !== 'Delete') return false
  editing.onDropEvent(event)
  return true
}

const LARGE_STEP_S = 0.1

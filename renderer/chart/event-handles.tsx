import { type KeyboardEvent, memo, type PointerEvent } from 'react'
import { spreadLabels } from '../../analysis/drawing/spread-labels.ts'
import type { Measured } from '../../analysis/estimate.ts'
import { CORRECTABLE_EVENTS, type CorrectableEvent } from '../../analysis/ride/corrections.ts'
import type { RideEvents } from '../../analysis/ride/ride.ts'
import { EVENT_NAMES } from '../words/event-names.ts'
import { momentWithMargin } from '../words/moments.ts'
import type { ChartEditing } from './chart-editing.ts'
import type { ChartLayout } from './chart-layout.ts'
import { followDrag } from './drag.ts'

export interface EventHandlesProps {
  readonly events: RideEvents
  readonly layout: ChartLayout
  readonly editing: ChartEditing | null
}

/** The moments of the ride: a line through all rows with a word on top, which is also its handle. */
export const EventHandles = memo(function EventHandles({ events, layout, editing }: EventHandlesProps) {
  const { x, emPx } = layout
  const marks = CORRECTABLE_EVENTS.flatMap((event) => {
    const at = events[event]
    if (at.kind !== 'measured') return []
    const isByHand = editing?.isByHand(event) ?? false
    const labelWidthPx = EVENT_NAMES[event].word.length * 0.58 * emPx + (isByHand ? 2.2 : 1.4) * emPx
    return [{ event, at, isByHand, xPx: x(at.value), labelWidthPx }]
  })
  // Always in the same order: a handle that is moved past another one keeps the focus.
  const inOrder = spreadLabels(marks).toSorted((a, b) => order(a.event) - order(b.event))
  return (
    <g>
      {inOrder.map((mark) => (
        <EventHandle key={mark.event} {...mark} layout={layout} editing={editing} />
      ))}
    </g>
  )
})

function order(event: CorrectableEvent): number {
  return CORRECTABLE_EVENTS.indexOf(event)
}

interface EventHandleProps {
  readonly event: CorrectableEvent
  readonly at: Measured
  readonly isByHand: boolean
  readonly xPx: number
  readonly labelPx: number
  readonly labelWidthPx: number
  readonly layout: ChartLayout
  readonly editing: ChartEditing | null
}

function EventHandle(props: EventHandleProps) {
  const { event, at, isByHand, xPx, labelPx, labelWidthPx, layout, editing } = props
  const { x, emPx, rows, widthPx } = layout
  const { word, name } = EVENT_NAMES[event]
  const { top, bottom } = rows.labels
  // A label at the border is drawn within the chart.
  const middlePx = Math.min(widthPx - labelWidthPx / 2 - 1, Math.max(labelWidthPx / 2 + 1, labelPx))
  const [fromPx, toPx] = at.ci95.map((s) => x(s)) as [number, number]
  const isSelected = editing?.selection?.kind === 'event' && editing.selection.event === event
  const shownPx = isByHand ? middlePx + 0.45 * emPx : middlePx
  const drawing = (
    <>
      {toPx - fromPx > 3 ? (
        <rect
          className="chart-event-interval"
          x={fromPx}
          width={toPx - fromPx}
          y={rows.tilt.top}
          height={rows.time.top - rows.tilt.top}
        />
      ) : null}
      <path
        className="chart-event-line"
        d={`M${middlePx},${bottom} L${xPx},${bottom + 0.5 * emPx} V${rows.time.top}`}
      />
      <rect
        className="chart-event-label"
        x={middlePx - labelWidthPx / 2}
        y={top}
        width={labelWidthPx}
        height={bottom - top}
        rx={(bottom - top) / 2}
      />
      {isByHand ? (
        <path className="chart-event-by-hand" d={diamond(middlePx - labelWidthPx / 2 + emPx, (top + bottom) / 2, 4)} />
      ) : null}
      <text className="chart-event-word" x={shownPx} y={(top + bottom) / 2 + 0.34 * emPx} textAnchor="middle">
        {word}
      </text>
    </>
  )
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

function diamond(xPx: number, yPx: number, halfPx: number): string {
  return `M${xPx - halfPx},${yPx} L${xPx},${yPx - halfPx} L${xPx + halfPx},${yPx} L${xPx},${yPx + halfPx} Z`
}

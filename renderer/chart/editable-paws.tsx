import { memo, type PointerEvent } from 'react'
import type { FootfallOrigin, HandFootfall } from '../../analysis/ride/corrections.ts'
import type { RideFootfall } from '../../analysis/ride/ride.ts'
import { type ChartEditing, isSamePaw, originKey } from './chart-editing.ts'
import type { ChartLayout } from '../figures/chart-layout.ts'
import { PawBar } from '../figures/paw-bar.tsx'
import { pawBarOf } from '../figures/planted-paws.tsx'
import { followDrag } from './drag.ts'

/** Every planted paw as a bar that can be chosen and moved. The same is done by keys in the list of paw contacts. */
export const EditablePaws = memo(function EditablePaws(props: {
  readonly footfalls: readonly RideFootfall[]
  readonly layout: ChartLayout
  readonly editing: ChartEditing
}) {
  const { footfalls, layout, editing } = props
  const bars = footfalls.flatMap((footfall, k) => {
    const origin = editing.origins[k]
    return origin === undefined ? [] : [{ footfall, origin, isSelected: isSamePaw(editing.selection, origin) }]
  })
  // The chosen one lies on top.
  const inOrder = [...bars.filter((bar) => !bar.isSelected), ...bars.filter((bar) => bar.isSelected)]
  return (
    <g>
      {inOrder.map(({ footfall, origin, isSelected }) => (
        <EditablePaw key={originKey(origin)} {...{ footfall, origin, isSelected, layout, editing }} />
      ))}
    </g>
  )
})

interface EditablePawProps {
  readonly footfall: RideFootfall
  readonly origin: FootfallOrigin
  readonly isSelected: boolean
  readonly layout: ChartLayout
  readonly editing: ChartEditing
}

/** A bar is dragged either along the plank or along time, whichever the hand does first. */
const DIRECTION_PX = 4

function EditablePaw({ footfall, origin, isSelected, layout, editing }: EditablePawProps) {
  const { x, y } = layout
  const { alongM, fromS, toS, limb } = footfall
  const bar = pawBarOf(footfall, layout)
  const hitPx = Math.max(12, 2 * bar.thickPx)
  const isByHand = origin.kind === 'added' || origin.isChanged
  const change = (changed: Partial<HandFootfall>): void =>
    editing.onChangePaw(origin, { alongM, fromS, toS, limb, ...changed })
  const select = (pressed: PointerEvent<Element>): void => {
    pressed.stopPropagation()
    editing.onSelect({ kind: 'paw', origin })
  }
  const pressBar = (pressed: PointerEvent<Element>): void => {
    select(pressed)
    let direction: 'along' | 'time' | null = null
    followDrag(
      pressed,
      ({ dxPx, dyPx }) => {
        direction ??= Math.hypot(dxPx, dyPx) < DIRECTION_PX ? null : Math.abs(dyPx) > Math.abs(dxPx) ? 'along' : 'time'
        if (direction === 'along') change({ alongM: y.invert(y(alongM) + dyPx) })
        if (direction === 'time') {
          const byS = x.invert(dxPx) - x.invert(0)
          change({ fromS: fromS + byS, toS: toS + byS })
        }
      },
      editing.onRest,
    )
  }
  const pressEnd =
    (side: 'fromS' | 'toS') =>
    (pressed: PointerEvent<Element>): void => {
      select(pressed)
      followDrag(pressed, ({ dxPx }) => change({ [side]: x.invert(x(footfall[side]) + dxPx) }), editing.onRest)
    }
  const end = (xPx: number, side: 'fromS' | 'toS') => (
    <rect
      className="chart-paw-end"
      x={xPx - 4}
      y={bar.yPx - hitPx / 2}
      width={8}
      height={hitPx}
      rx={3}
      onPointerDown={pressEnd(side)}
    />
  )
  return (
    <g className="chart-editable-paw" data-selected={isSelected || undefined}>
      {isSelected ? (
        <rect
          className="chart-paw-chosen"
          x={bar.fromPx - 5}
          width={bar.toPx - bar.fromPx + 10}
          y={bar.yPx - hitPx / 2 - 2}
          height={hitPx + 4}
          rx={5}
        />
      ) : null}
      <PawBar {...bar} />
      {isByHand ? <circle className="chart-paw-by-hand" cx={(bar.fromPx + bar.toPx) / 2} cy={bar.yPx} r={4} /> : null}
      <rect
        className="chart-hit"
        x={bar.fromPx}
        width={Math.max(8, bar.toPx - bar.fromPx)}
        y={bar.yPx - hitPx / 2}
        height={hitPx}
        onPointerDown={pressBar}
      />
      {isSelected ? end(bar.fromPx, 'fromS') : null}
      {isSelected ? end(bar.toPx, 'toS') : null}
    </g>
  )
}

import { type CorrectableEvent, withEvent, withFootfall } from '../../analysis/ride/corrections.ts'
import type { ChartEditing, Selection } from '../chart/chart-editing.ts'
import { originKey } from '../chart/chart-editing.ts'
import { framesFrom, snapped } from './nearest-frame.ts'
import { settledPaw } from './set-paw.ts'
import type { RideEditing } from './use-ride-editing.ts'

export interface EditingPlace {
  readonly selection: Selection | null
  readonly onSelect: (selection: Selection | null) => void
  /** Shows the frame of a moment, s. */
  readonly onShow: (atS: number) => void
}

/** What the chart's handles do: they move by whole frames, and the picture goes with them. */
export function chartEditingOf(editing: RideEditing, place: EditingPlace): ChartEditing {
  const { ptsS } = editing.parts.track
  const { lengthM } = editing.parts.board
  const setEvent = (event: CorrectableEvent, atS: number): void => {
    editing.change((corrections) => withEvent(corrections, event, { kind: 'at', atS }), `event ${event}`)
    place.onShow(atS)
  }
  return {
    selection: place.selection,
    onSelect: place.onSelect,
    origins: editing.origins,
    isByHand: editing.isByHand,
    onMoveEvent: (event, atS) => setEvent(event, snapped(ptsS, atS)),
    onStepEvent(event, step) {
      const now = editing.ride.events[event]
      if (now.kind !== 'measured') return
      setEvent(
        event,
        step.kind === 'frames' ? framesFrom(ptsS, now.value, step.count) : snapped(ptsS, now.value + step.byS),
      )
    },
    onDropEvent: (event) =>
      editing.change((corrections) => withEvent(corrections, event, { kind: 'did-not-happen' }), null),
    onChangePaw(origin, footfall) {
      const before = editing.ride.footfalls[editing.origins.findIndex((one) => originKey(one) === originKey(origin))]
      const settled = settledPaw(footfall, before ?? null, ptsS, lengthM)
      editing.change((corrections) => withFootfall(corrections, origin, settled), `paw ${originKey(origin)}`)
    },
    onRest: editing.rest,
  }
}

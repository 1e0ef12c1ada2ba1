import { useQueryClient } from '@tanstack/react-query'
import { useMemo } from 'react'
import { correctRide, type MeasuredParts, momentSd } from '../../analysis/ride/correct-ride.ts'
import {
  correctedFootfalls,
  correctionCount,
  type CorrectableEvent,
  type Corrections,
  type FootfallOrigin,
} from '../../analysis/ride/corrections.ts'
import type { Ride } from '../../analysis/ride/ride.ts'
import { unlistedDog, unlistedTrack } from '../../main/contract/listed.ts'
import { NO_CORRECTIONS, type RideDetail } from '../../main/contract/rides.ts'
import type { SaveState } from '../app/autosave.ts'
import { useHistory } from '../app/histories.tsx'
import { useAutosave } from '../app/savers.tsx'
import { useClient } from '../host/host-provider.tsx'
import { valueOrThrow } from '../host/problem-error.ts'

export interface RideEditing {
  readonly parts: MeasuredParts
  /** What holds now. */
  readonly ride: Ride
  readonly corrections: Corrections
  /** Where each of the ride's footfalls comes from. */
  readonly origins: readonly FootfallOrigin[]
  readonly isCorrected: boolean
  readonly isByHand: (event: CorrectableEvent) => boolean
  /** `running` names a change that goes on, so that a drag is one step back. */
  readonly change: (change: (corrections: Corrections) => Corrections, running?: string | null) => void
  readonly rest: () => void
  /** Null when there is nothing to take back or to do again. */
  readonly undo: (() => void) | null
  readonly redo: (() => void) | null
  readonly revertAll: () => void
  readonly keeping: SaveState
}

/** A ride that is being corrected: computed anew at once in the window, kept a moment later. */
export function useRideEditing(detail: RideDetail): RideEditing {
  const { measured, dog, track, picture } = detail
  const parts = useMemo(
    () => ({ measured, dog: unlistedDog(dog), track: unlistedTrack(track), board: picture.board }),
    [measured, dog, track, picture],
  )
  const rideId = detail.card.id
  const answers = useQueryClient()
  const client = useClient()
  const saving = useAutosave<Corrections>(`corrections of ${rideId}`, async (corrections) => {
    const key = ['rides.get', { rideId }]
    valueOrThrow(await client.call('rides.correct', { rideId, corrections }))
    // An answer that is on its way may not know of it yet, but it may be the one that knows what else was changed.
    await answers.cancelQueries({ queryKey: key })
    answers.setQueryData<RideDetail>(key, (shown) => shown && { ...shown, corrections })
    void answers.invalidateQueries({ queryKey: key })
  })
  const keeping = saving.now
  const found = saving.unsaved()?.value ?? detail.corrections
  const { history, act } = useHistory<Corrections>(`corrections of ${rideId}`, found, saving.put)
  const corrections = history.present
  const ride = useMemo(() => correctRide(parts, corrections), [parts, corrections])
  const origins = useMemo(() => {
    const { ptsS } = parts.track
    const traced = correctedFootfalls(parts.dog.footfalls, corrections.footfalls, (atS) => momentSd(ptsS, atS))
    return traced.map(({ origin }) => origin)
  }, [parts, corrections])

  const begin = history.past.length
  const later = history.future.length
  return useMemo(
    () => ({
      parts,
      ride,
      corrections,
      origins,
      isCorrected: correctionCount(corrections) > 0,
      isByHand: (event) => corrections.events[event] !== undefined,
      change: (change, running = null) => act({ kind: 'change', change, running }),
      rest: () => act({ kind: 'rest' }),
      undo: begin === 0 ? null : () => act({ kind: 'undo' }),
      redo: later === 0 ? null : () => act({ kind: 'redo' }),
      revertAll: () => act({ kind: 'change', change: () => NO_CORRECTIONS, running: null }),
      keeping,
    }),
    [parts, ride, corrections, origins, begin, later, keeping, act],
  )
}

import { useQueryClient } from '@tanstack/react-query'
import { useEffect, useMemo, useReducer, useRef } from 'react'
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
import { advance, beginHistory } from '../app/history.ts'
import { useAutosave } from '../app/use-autosave.ts'
import { useChange } from '../host/use-call.ts'

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
  const answers = useQueryClient()
  const correct = useChange('rides.correct')
  const { put, state: keeping } = useAutosave((corrections: Corrections) => {
    const rideId = detail.card.id
    // One who leaves and comes back at once goes on from here.
    answers.setQueryData<RideDetail>(['rides.get', { rideId }], (shown) => shown && { ...shown, corrections })
    return correct.mutateAsync({ rideId, corrections })
  })
  const [history, dispatch] = useReducer(advance<Corrections>, detail.corrections, beginHistory<Corrections>)
  const corrections = history.present
  const ride = useMemo(() => correctRide(parts, corrections), [parts, corrections])
  const origins = useMemo(() => {
    const { ptsS } = parts.track
    const traced = correctedFootfalls(parts.dog.footfalls, corrections.footfalls, (atS) => momentSd(ptsS, atS))
    return traced.map(({ origin }) => origin)
  }, [parts, corrections])

  const kept = useRef(corrections)
  useEffect(() => {
    if (corrections === kept.current) return
    kept.current = corrections
    put(corrections)
  }, [corrections, put])

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
      change: (change, running = null) => dispatch({ kind: 'change', change, running }),
      rest: () => dispatch({ kind: 'rest' }),
      undo: begin === 0 ? null : () => dispatch({ kind: 'undo' }),
      redo: later === 0 ? null : () => dispatch({ kind: 'redo' }),
      revertAll: () => dispatch({ kind: 'change', change: () => NO_CORRECTIONS, running: null }),
      keeping,
    }),
    [parts, ride, corrections, origins, begin, later, keeping],
  )
}

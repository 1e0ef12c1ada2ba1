import type { Board } from '../board/board.ts'
import type { BoardTrack } from '../board/board-track.ts'
import type { DogTrack } from '../dog/dog-track.ts'
import { measured, withheld, type Estimate } from '../estimate.ts'
import { correctedDog } from './corrected-dog.ts'
import {
  correctedFootfalls,
  correctionCount,
  type CorrectableEvent,
  type Corrections,
  type ZoneByEye,
} from './corrections.ts'
import { indexBefore } from './curve-reading.ts'
import { clipEndS, rideFootfalls, rideFrames } from './measure-ride.ts'
import { measureRide } from './measures.ts'
import { contactEstimate, leftAt, settledAt } from './ride-events.ts'
import type { DownZoneResult, Ride, RideEvents, ZoneResult } from './ride.ts'
import { judgeLeaving, judgeZones } from './verdicts.ts'

/** A ride as it was measured, with the curves that its measures come from. */
export interface MeasuredParts {
  readonly measured: Ride
  readonly dog: DogTrack
  /** On the same frames as `dog`. */
  readonly track: BoardTrack
  readonly board: Board
}

/**
 * A ride with what a person has set by hand: everything that depends on it is computed anew by the same rules.
 *
 * A moment set by hand is believed to half a frame, evenly: 1 sd is half a frame / sqrt(3). An event that did not
 * happen is withheld, and with it what depends on it: no tip, no landing. First on, left and settled follow corrected
 * paw contacts unless they are set by hand themselves.
 *
 * @param parts the ride and its curves, s and m
 * @param corrections times in s of real time, places in m along
 * @returns exactly `parts.measured` when nothing is set by hand; else it says in a note that it was corrected
 */
export function correctRide(parts: MeasuredParts, corrections: Corrections): Ride {
  const { measured: ride, track, board } = parts
  if (correctionCount(corrections) === 0) return ride
  const momentSdS = (atS: number): number => momentSd(track.ptsS, atS)
  const traced = correctedFootfalls(parts.dog.footfalls, corrections.footfalls, momentSdS)
  const dog = correctedDog(
    parts.dog,
    traced.map(({ footfall }) => footfall),
  )
  const events = correctedEvents(ride, dog, corrections.events, momentSdS)
  const bounceM = bounceOf(ride, events.grounded)
  const { entrySpeedMps, entryAngleDeg, entryOffsetM, baseShiftM, baseLiftM } = ride.measures
  const measures = {
    ...measureRide(events, dog, board.lengthM, bounceM, clipEndS(track)),
    entrySpeedMps,
    ...(entryAngleDeg === undefined ? {} : { entryAngleDeg }),
    ...(entryOffsetM === undefined ? {} : { entryOffsetM }),
    ...(baseShiftM === undefined ? {} : { baseShiftM }),
    ...(baseLiftM === undefined ? {} : { baseLiftM }),
  }
  const zones = judgeZones(dog, board, events)
  return {
    ...ride,
    events,
    measures,
    zones: { up: byEye(zones.up, corrections.zones.up), down: downByEye(zones.down, corrections.zones.down) },
    leaving: { verdict: judgeLeaving(events, measures.leavingMarginS) },
    footfalls: rideFootfalls(dog),
    frames: rideFrames(track, dog),
    notes: [...ride.notes, 'Parts of this ride were set by hand.'],
  }
}

/**
 * Spread of a moment that a person has set to a frame: it lies anywhere within half a frame of it.
 *
 * @param ptsS times of the frames, s, rising; @param atS the moment, s
 * @returns s: half the time between the frames around it, / sqrt(3)
 */
export function momentSd(ptsS: Float64Array, atS: number): number {
  const last = ptsS.length - 1
  const before = indexBefore(ptsS, Math.min(Math.max(atS, ptsS[0]!), ptsS[last]!))
  return before < 0 ? 0.02 : (ptsS[before + 1]! - ptsS[before]!) / 2 / Math.sqrt(3)
}

function correctedEvents(
  { events: was }: Ride,
  dog: DogTrack,
  byHand: Corrections['events'],
  momentSdS: (atS: number) => number,
): RideEvents {
  const set = (event: CorrectableEvent, otherwise: () => Estimate): Estimate => {
    const correction = byHand[event]
    if (correction === undefined) return otherwise()
    return correction.kind === 'at' ? measured(correction.atS, momentSdS(correction.atS)) : DID_NOT_HAPPEN[event]
  }
  const isNeverTipped = byHand.tipStart?.kind === 'did-not-happen'
  const landsByHand = byHand.grounded?.kind === 'at'
  const tipStart = isNeverTipped && landsByHand ? TIP_OUTSIDE : set('tipStart', () => was.tipStart)
  const grounded = set('grounded', () => (isNeverTipped ? DID_NOT_HAPPEN.tipStart : was.grounded))
  const left = set('left', () => leftAt(dog, tipStart))
  return {
    firstOn: set('firstOn', () => contactEstimate(dog.firstOn)),
    tipStart,
    grounded,
    settled: set('settled', () => settledAt(dog, grounded, left)),
    left,
    bangHeard: isNever(grounded) ? grounded : was.bangHeard,
  }
}

const DID_NOT_HAPPEN: Readonly<Record<CorrectableEvent, Estimate>> = {
  firstOn: withheld('clip-ends', 'Set by hand: the dog gets on outside this clip.'),
  tipStart: withheld('never-tipped', 'Set by hand: the board did not begin to tip.'),
  grounded: withheld('never-landed', 'Set by hand: the board did not land.'),
  settled: withheld('not-seen', 'Set by hand: the lead paw did not come to rest before the landing.'),
  left: withheld('still-on', 'Set by hand: the dog is still on the plank when the clip ends.'),
}

/** A board that lands has tipped. */
const TIP_OUTSIDE = withheld('clip-ends', 'Set by hand: the board begins to tip outside this clip.')

/** True when it is known that the board did not land. */
function isNever(grounded: Estimate): boolean {
  return grounded.kind === 'withheld' && (grounded.reason === 'never-tipped' || grounded.reason === 'never-landed')
}

/** The spring back is the board's own and is not computed anew; without a landing there is none. */
function bounceOf({ events: was, measures: { bounceM } }: Ride, grounded: Estimate): Estimate {
  if (isNever(grounded)) return grounded
  const isNewLanding = grounded.kind === 'measured' && was.grounded.kind !== 'measured'
  return isNewLanding
    ? withheld('not-seen', 'The bounce is only measured where the program found the landing itself.')
    : bounceM
}

const BY_EYE = withheld('not-clear', 'Judged by eye, against the paw contacts that were measured.')
const BY_EYE_MISSED = withheld('not-seen', 'Judged by eye: no paw touched this zone.')

/** The facts that go against the eye are withheld. */
function byEye(zone: ZoneResult, verdict: ZoneByEye | undefined): ZoneResult {
  if (verdict === undefined) return zone
  const isInside = zone.clearanceM.kind === 'measured' && zone.clearanceM.value <= 0
  const clearanceM = isInside === (verdict === 'touched') ? zone.clearanceM : BY_EYE
  return verdict === 'touched'
    ? { ...zone, verdict, clearanceM }
    : { ...zone, verdict, clearanceM, first: BY_EYE_MISSED, last: BY_EYE_MISSED }
}

function downByEye(zone: DownZoneResult, verdict: ZoneByEye | undefined): DownZoneResult {
  const touchedAfterGround = verdict === 'missed' ? 'no' : zone.touchedAfterGround
  return { ...byEye(zone, verdict), touchedAfterGround }
}

import type { ApproachMeasures } from '../approach/approach.ts'
import type { Board } from '../board/board.ts'
import type { BoardTrack } from '../board/board-track.ts'
import type { ClipInfo } from '../clip/frame.ts'
import type { DogTrack } from '../dog/dog-track.ts'
import { type Estimate, withheld } from '../estimate.ts'
import type { BangResult } from '../sound/bang.ts'
import { baseNotes, NO_LIFT } from './base-words.ts'
import type { BoardEvents } from './board-events.ts'
import { measureRide } from './measures.ts'
import { timeRide } from './ride-events.ts'
import type { Ride, RideFootfall, RideFrames } from './ride.ts'
import { judgeLeaving, judgeZones } from './verdicts.ts'

/** What a ride is put together from. */
export interface RideParts {
  readonly track: BoardTrack
  /** What `findBoardEvents` finds in `track`. */
  readonly boardEvents: BoardEvents
  /** On the same frames as `track`. */
  readonly dog: DogTrack
  readonly sound: BangResult | null
  /** What was measured of the run up; absent: nobody looked. */
  readonly approach?: ApproachMeasures
  /** How far the base has shifted, m; absent: nobody looked. */
  readonly baseShiftM?: Estimate
  readonly clip: ClipInfo
  readonly board: Board
  readonly programVersion: string
  readonly notes: readonly string[]
}

const NO_APPROACH = withheld('not-measured-yet', 'The approach was not looked at: measure the clip again.')

const DEGREES = 180 / Math.PI

/**
 * Puts a ride together: events, measures, verdicts and curves.
 *
 * @param parts curves on common frames, times in s of real time
 * @returns the whole ride as it is written to `ride.json`
 */
export function rideFrom(parts: RideParts): Ride {
  const { track, boardEvents, dog, sound, clip, board } = parts
  const { events, soundNote } = timeRide(boardEvents, dog, sound)
  const measures = {
    ...measureRide(events, dog, board.lengthM, boardEvents.bounceM, clipEndS(track)),
    ...(parts.approach ?? { entrySpeedMps: NO_APPROACH }),
    ...(parts.baseShiftM === undefined ? {} : { baseShiftM: parts.baseShiftM, baseLiftM: NO_LIFT }),
  }
  return {
    schema: 'tiphold.ride/1',
    program: { version: parts.programVersion },
    clip,
    events,
    measures,
    zones: judgeZones(dog, board, events),
    leaving: { verdict: judgeLeaving(events, measures.leavingMarginS) },
    footfalls: rideFootfalls(dog),
    frames: rideFrames(track, dog),
    notes: [
      ...parts.notes,
      ...baseNotes(parts.baseShiftM),
      ...(soundNote === null || sound?.clear === true ? [] : [soundNote]),
    ],
  }
}

/**
 * The end of a track's last frame: half a usual frame after its timestamp.
 *
 * @param track times in s
 * @returns s
 */
export function clipEndS({ ptsS }: Pick<BoardTrack, 'ptsS'>): number {
  const last = ptsS.length - 1
  const frameS = last > 0 ? (ptsS[last]! - ptsS[0]!) / last : 0
  return ptsS[last]! + frameS / 2
}

/** The footfalls of a `dog` as a ride file holds them: places in m along, times in s, without their spreads. */
export function rideFootfalls(dog: Pick<DogTrack, 'footfalls'>): readonly RideFootfall[] {
  return dog.footfalls.map(({ alongM, fromS, toS, limb, confidence }) => ({ alongM, fromS, toS, limb, confidence }))
}

/**
 * The curves as a ride file holds them, rounded to what they are worth.
 *
 * @param track the board's angle, rad; @param dog on the same frames, m
 * @returns degrees and m, null where a frame has no value
 */
export function rideFrames(track: BoardTrack, dog: DogTrack): RideFrames {
  const listed = (curve: Float64Array, scale: number, digits: number): (number | null)[] =>
    Array.from(curve, (v) => (Number.isNaN(v) ? null : Number((v * scale).toFixed(digits))))
  return {
    ptsS: Array.from(track.ptsS, (t) => Number(t.toFixed(6))),
    boardAngleDeg: listed(track.angleRad, DEGREES, 4),
    leadPawM: listed(dog.leadPawM, 1, 4),
    rearPawM: listed(dog.rearPawM, 1, 4),
    bodyM: listed(dog.bodyM, 1, 4),
  }
}

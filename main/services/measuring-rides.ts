import { randomUUID } from 'node:crypto'
import { type CorrectedView, correctionsMeasuredAgain } from '../../analysis/ride/carry-corrections.ts'
import { type FrameSpan, ridesMeasuredAgain } from '../../analysis/ride/rides-measured-again.ts'
import { NO_CORRECTIONS, type RideCorrections } from '../contract/rides.ts'
import { NO_SESSION } from '../contract/sessions.ts'
import type { KeptClip, Library, RideRecord } from '../library/library.ts'
import { LibraryProblem } from '../library/library-problem.ts'
import { rideIdsByClip } from './clips-cards.ts'

/** A ride that was measured before, with its record unless that cannot be read any more. */
interface OldRide {
  readonly id: string
  readonly record: RideRecord | null
}

/**
 * Keeps what was measured of a clip in the place of what was measured before. Each new ride takes over id, title, note,
 * dog and corrections of the old one of the same frames, as they are when it is kept. Old rides outside the measured
 * stretch stay; those that were not found again go into the bin. Should the program end in between, there are old and
 * new rides, each of them whole.
 *
 * @param clip as it was when it was ordered: with the board and the stretch that were measured with
 * @param records in the order of the clip
 * @returns the rides' ids, in the same order
 */
export async function keepRides(
  library: Library,
  clip: KeptClip,
  records: readonly RideRecord[],
): Promise<readonly string[]> {
  const { dogId, boardId, title, stretch } = clip.setup
  const old = await oldRides(library, clip.id)
  const spans = old.map(({ record }) => (record === null ? null : spanOf(record)))
  const { takesPlaceOf, gone } = ridesMeasuredAgain(spans, records.map(spanOf), stretch)
  const ids: string[] = []
  for (const [k, record] of records.entries()) {
    const before = old[takesPlaceOf[k] ?? -1]
    const again = before && (await library.rides.measureAgain(before.id, record, boardId, title, correctionsOver))
    const id = again === true ? before.id : randomUUID()
    if (again !== true) {
      await library.rides.put({
        id,
        clipId: clip.id,
        dogId,
        boardId,
        title,
        note: '',
        session: { ...NO_SESSION, day: clip.filmedOn },
        corrections: NO_CORRECTIONS,
        review: [],
        record,
      })
    }
    ids.push(id)
  }
  for (const k of gone) await library.rides.remove(old[k]!.id)
  return ids
}

async function oldRides(library: Library, clipId: string): Promise<readonly OldRide[]> {
  const ids = rideIdsByClip(library).get(clipId) ?? []
  return Promise.all(
    ids.map(async (id): Promise<OldRide> => {
      try {
        return { id, record: (await library.rides.get(id))?.record ?? null }
      } catch (error) {
        // Measuring again is the cure for a record that cannot be read.
        if (error instanceof LibraryProblem) return { id, record: null }
        throw error
      }
    }),
  )
}

function spanOf({ picture: { frameIndex } }: RideRecord): FrameSpan {
  return { fromFrame: frameIndex[0] ?? 0, toFrame: frameIndex[frameIndex.length - 1] ?? -1 }
}

function correctionsOver(record: RideRecord, before: RideRecord | null, corrections: RideCorrections): RideCorrections {
  return before === null ? NO_CORRECTIONS : correctionsMeasuredAgain(corrections, viewOf(before), viewOf(record))
}

function viewOf({ measured: { clip, footfalls }, picture: { exitSide } }: RideRecord): CorrectedView {
  return { slowMotionFactor: clip.slowMotionFactor, exitSide, footfalls }
}

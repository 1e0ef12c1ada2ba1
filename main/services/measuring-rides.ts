import { randomUUID } from 'node:crypto'
import { carriedCorrections } from '../../analysis/ride/carry-corrections.ts'
import { NO_CORRECTIONS, type RideCard, type RideCorrections } from '../contract/rides.ts'
import type { KeptClip, Library, RideRecord } from '../library/library.ts'
import { LibraryProblem } from '../library/library-problem.ts'
import { rideIdsByClip } from './clips-cards.ts'

/** A ride that was measured before, with its record unless that cannot be read any more. */
interface OldRide {
  readonly card: RideCard
  readonly corrections: RideCorrections
  readonly record: RideRecord | null
}

/**
 * Keeps what was measured of a clip in the place of what was measured before. Each new ride takes over id, title, note,
 * dog and corrections of the old one of the same frames. Should the program end in between, there are old and new
 * rides, each of them whole.
 *
 * @param records in the order of the clip
 * @returns the rides' ids, in the same order
 */
export async function keepRides(
  library: Library,
  clip: KeptClip,
  records: readonly RideRecord[],
): Promise<readonly string[]> {
  const { dogId, boardId, title } = clip.setup
  const left = new Set(await oldRides(library, clip.id))
  const ids: string[] = []
  for (const record of records) {
    const old = inItsPlace(record, left)
    if (old !== null) left.delete(old)
    const id = old?.card.id ?? randomUUID()
    await library.rides.put({
      id,
      clipId: clip.id,
      dogId: old?.card.dogId ?? dogId,
      boardId,
      title: old === null || old.card.title === '' ? title : old.card.title,
      note: old?.card.note ?? '',
      corrections: old === null ? NO_CORRECTIONS : correctionsOver(record, old),
      record,
    })
    ids.push(id)
  }
  for (const { card } of left) await library.rides.remove(card.id)
  return ids
}

async function oldRides(library: Library, clipId: string): Promise<readonly OldRide[]> {
  const ids = rideIdsByClip(library).get(clipId) ?? []
  const cards = new Map(library.rides.cards().map((card) => [card.id, card]))
  const found = await Promise.all(
    ids.map(async (id): Promise<OldRide | null> => {
      const card = cards.get(id)
      if (card === undefined) return null
      try {
        const ride = await library.rides.get(id)
        return { card, corrections: ride?.corrections ?? NO_CORRECTIONS, record: ride?.record ?? null }
      } catch (error) {
        // Measuring again is the cure for a record that cannot be read.
        if (error instanceof LibraryProblem) return { card, corrections: NO_CORRECTIONS, record: null }
        throw error
      }
    }),
  )
  return found.filter((ride) => ride !== null)
}

/** The old ride that shares most frames with a new one; else one whose frames are not known; else null. */
function inItsPlace(record: RideRecord, rides: ReadonlySet<OldRide>): OldRide | null {
  let best: { ride: OldRide; shared: number } | null = null
  for (const ride of rides) {
    const shared = ride.record === null ? 0.5 : sharedFrames(ride.record, record)
    if (shared > 0 && (best === null || shared > best.shared)) best = { ride, shared }
  }
  return best?.ride ?? null
}

function sharedFrames(a: RideRecord, b: RideRecord): number {
  const [fromA, toA] = ends(a)
  const [fromB, toB] = ends(b)
  return Math.min(toA, toB) - Math.max(fromA, fromB) + 1
}

function ends({ picture: { frameIndex } }: RideRecord): readonly [number, number] {
  return [frameIndex[0] ?? 0, frameIndex[frameIndex.length - 1] ?? -1]
}

/** Corrections speak of times and of places from the entry end: with another timeline or direction they are void. */
function correctionsOver(record: RideRecord, { record: before, corrections }: OldRide): RideCorrections {
  const isSameView =
    before?.measured.clip.slowMotionFactor === record.measured.clip.slowMotionFactor &&
    before.picture.exitSide === record.picture.exitSide
  if (!isSameView) return NO_CORRECTIONS
  return carriedCorrections(corrections, before.measured.footfalls, record.measured.footfalls)
}

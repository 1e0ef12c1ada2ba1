import { randomUUID } from 'node:crypto'
import { NO_CORRECTIONS } from '../contract/rides.ts'
import type { KeptClip, Library, RideRecord } from '../library/library.ts'
import { rideIdsByClip } from './clips-cards.ts'

/**
 * Keeps what was measured of a clip in the place of what was measured before. Each new ride takes over the id, title,
 * note and dog of the old one in its place; corrections go, since they corrected other numbers. Should the program end
 * in between, there are old and new rides, each of them whole.
 *
 * @param records in the order of the clip
 * @returns the rides' ids, in the same order
 */
export async function keepRides(
  library: Library,
  clip: KeptClip,
  records: readonly RideRecord[],
): Promise<readonly string[]> {
  const before = rideIdsByClip(library).get(clip.id) ?? []
  const { dogId, boardId, title } = clip.setup
  const ids: string[] = []
  for (const [k, record] of records.entries()) {
    const oldId = before[k]
    const old = oldId === undefined ? null : await library.rides.get(oldId)
    const id = oldId ?? randomUUID()
    await library.rides.put({
      id,
      clipId: clip.id,
      dogId: old?.dogId ?? dogId,
      boardId,
      title: old === null || old.title === '' ? title : old.title,
      note: old?.note ?? '',
      corrections: NO_CORRECTIONS,
      record,
    })
    ids.push(id)
  }
  for (const leftOver of before.slice(records.length)) await library.rides.remove(leftOver)
  return ids
}

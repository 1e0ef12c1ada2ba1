import type { ClipCard, ClipStage } from '../contract/clips.ts'
import type { KeptClip, Library } from '../library/library.ts'
import { marksOf } from '../../analysis/marking/marks-draft.ts'

/** How far a clip is on its way to a ride. */
function stageOf(
  clip: KeptClip,
  now: { readonly rideIds: readonly string[]; readonly isBeingMeasured: boolean },
): ClipStage {
  if (now.isBeingMeasured) return 'measuring'
  if (now.rideIds.length > 0 || clip.drop !== undefined) return 'measured'
  if (clip.setup.boardId === null) return 'to-set-up'
  return marksOf(clip.marks, { fileName: clip.facts.fileName, travel: clip.setup.travel }).ok ? 'to-measure' : 'to-mark'
}

/** The ids of each clip's rides, in the order of the clip. */
export function rideIdsByClip(library: Library): ReadonlyMap<string, readonly string[]> {
  const byClip = new Map<string, string[]>()
  const cards = [...library.rides.cards()].sort((a, b) => a.miniature.fromS - b.miniature.fromS)
  for (const { clipId, id } of cards) byClip.set(clipId, [...(byClip.get(clipId) ?? []), id])
  return byClip
}

/** A clip as lists show it. */
export function clipCard(
  library: Library,
  clip: KeptClip,
  now: { readonly rideIds: readonly string[]; readonly isBeingMeasured: boolean; readonly isMissing: boolean },
): ClipCard {
  const { dogId, boardId, title } = clip.setup
  return {
    id: clip.id,
    fileName: clip.facts.fileName,
    title,
    takenInAt: clip.takenInAt,
    stage: stageOf(clip, now),
    dogName: dogId === null ? null : (library.dogs.get(dogId)?.name ?? null),
    boardName: boardId === null ? null : (library.boards.get(boardId)?.name ?? null),
    isMissing: now.isMissing,
    sample: clip.sample,
    rideIds: now.rideIds,
    ...(clip.drop === undefined ? {} : { dropOnBoardId: clip.drop.boardId }),
  }
}

import type { MarksSearch } from '../../analysis/finding/marks-offer.ts'
import type { ClipSetup } from '../contract/clips.ts'
import type { Handlers } from '../contract/calls.ts'
import type { Outcome } from '../contract/outcome.ts'
import type { KeptClip, Library } from '../library/library.ts'
import { marksOf } from '../../analysis/marking/marks-draft.ts'

/**
 * What can be said of a clip that has just come in: dog, board and direction as in the newest clip of the handler's own
 * with the same picture size. The window shows it as something to look at, and it is changed like anything else.
 */
export function likelySetup(library: Pick<Library, 'clips' | 'boards' | 'dogs'>, clip: KeptClip): ClipSetup {
  const like = library.clips
    .list()
    .filter(({ sample, facts }) => sample === null && isSameSize(facts, clip.facts))
    .filter(({ setup: { boardId } }) => boardId !== null && library.boards.get(boardId) !== null)
    .sort((a, b) => (a.takenInAt < b.takenInAt ? 1 : -1))[0]
  if (like === undefined) return clip.setup
  const { dogId, boardId, travel } = like.setup
  const isDogKnown = dogId !== null && library.dogs.get(dogId) !== null
  return { ...clip.setup, boardId, travel, dogId: isDogKnown ? dogId : null }
}

function isSameSize(a: KeptClip['facts'], b: KeptClip['facts']): boolean {
  return a.widthPx === b.widthPx && a.heightPx === b.heightPx
}

export interface ArrivingParts {
  readonly library: Library
  readonly propose: (clip: KeptClip) => Promise<Outcome<MarksSearch>>
  readonly handlers: Pick<Handlers, 'clips.mark' | 'measuring.start'>
}

/**
 * Measures a clip that has just come in, if the handler has chosen that and everything is known: dog and board, and the
 * marks from another clip of the same tripod place. Everything else waits for the handler's eye.
 *
 * @returns whether it is being measured
 */
export async function measureOnArrival(parts: ArrivingParts, clipId: string): Promise<boolean> {
  const { library, propose, handlers } = parts
  const clip = library.clips.get(clipId)
  if (!library.settings.get().measureOnArrival || clip === null || !isUntouched(clip)) return false
  if (clip.setup.dogId === null || clip.setup.boardId === null) return false
  const proposed = await propose(clip)
  const carried = proposed.ok ? proposed.value.offers.find(({ source }) => source === 'carried') : undefined
  // The handler may have begun to mark it meanwhile.
  const now = library.clips.get(clipId)
  if (carried === undefined || now === null || !isUntouched(now)) return false
  if (!marksOf(carried.marks, { fileName: now.facts.fileName, travel: now.setup.travel }).ok) return false
  const marked = await handlers['clips.mark']({ clipId, marks: carried.marks })
  return marked.ok && (await handlers['measuring.start']({ clipId })).ok
}

function isUntouched({ marks, sample }: KeptClip): boolean {
  return sample === null && marks.rest === null && marks.grounded === null && !marks.neverLands
}

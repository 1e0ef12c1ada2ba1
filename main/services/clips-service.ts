import type { ClipDetail, ClipSetup, MarksSearch } from '../contract/clips.ts'
import type { Handlers } from '../contract/calls.ts'
import { problem, success, type Outcome } from '../contract/outcome.ts'
import type { KeptClip, Library } from '../library/library.ts'
import { answered, LibraryProblem, thereOr } from '../library/library-problem.ts'
import type { ClipPictures } from '../film/pictures/clip-pictures.ts'
import { clipCard, rideIdsByClip } from './clips-cards.ts'
import { type ClipFiles, clipPaths } from './clips-files.ts'
import { frameFault } from '../../analysis/marking/marks-draft.ts'
import { takingIn } from './clips-taken-in.ts'
import type { HandedFiles } from './handed-files.ts'

export interface ClipsParts {
  readonly library: Library
  readonly handed: Pick<HandedFiles, 'pathOf' | 'letGo'>
  readonly files: ClipFiles
  readonly pictures: ClipPictures
  /** Whether a clip is being measured or waits for it. */
  readonly isBeingMeasured: (clipId: string) => boolean
  /** Gives up measuring a clip that is to be removed. */
  readonly stopMeasuring: (clipId: string) => Promise<void>
  readonly propose: (clip: KeptClip) => Promise<Outcome<MarksSearch>>
}

export type ClipsHandlers = Pick<
  Handlers,
  | 'clips.list'
  | 'clips.get'
  | 'clips.takeIn'
  | 'clips.findAgain'
  | 'clips.setUp'
  | 'clips.mark'
  | 'clips.proposeMarks'
  | 'clips.preparePictures'
  | 'clips.remove'
>

/** Everything that can be done with a clip before it is measured. */
export interface ClipsService {
  readonly handlers: ClipsHandlers
  detail(clip: KeptClip): Promise<ClipDetail>
  /** Takes the clip at a path in, unless one of the same content is here: then that one, lying there now. */
  takeInPath(path: string): Promise<Outcome<KeptClip>>
}

const gone = 'This clip is no longer in the library.'
const GONE = problem('not-found', gone)

export function clipsService(parts: ClipsParts): ClipsService {
  const { library, handed, files, pictures } = parts
  const takeInPath = takingIn(library, files)

  async function detail(clip: KeptClip): Promise<ClipDetail> {
    const card = clipCard(library, clip, {
      rideIds: rideIdsByClip(library).get(clip.id) ?? [],
      isBeingMeasured: parts.isBeingMeasured(clip.id),
      isMissing: !(await files.isThere(clip)),
    })
    const { facts, frameTimesS, slowMotion, setup, marks } = clip
    const state = await pictures.state(clip.id, facts.sha256)
    return { card, facts, frameTimesS, slowMotion, setup, marks, pictures: state }
  }

  /** `to` gets the clip as it is once all changes before are done, and may throw to leave it so. */
  function change(clipId: string, to: (now: KeptClip) => KeptClip): Promise<Outcome<ClipDetail>> {
    return answered(async () => detail(thereOr(await library.clips.update(clipId, to), gone)))
  }

  function setupFault(clip: KeptClip, setup: ClipSetup): string | null {
    const { stretch, dogId, boardId } = setup
    const last = clip.facts.frameCount - 1
    if (stretch !== null && (stretch.fromFrame >= stretch.toFrame || stretch.toFrame > last))
      return `The stretch must run from a frame to a later one, up to ${last}: it runs from ${stretch.fromFrame} to ${stretch.toFrame}.`
    if (dogId !== null && library.dogs.get(dogId) === null)
      return 'This dog is no longer in the library: choose another.'
    if (boardId !== null && library.boards.get(boardId) === null)
      return 'This board is no longer in the library: choose another.'
    const lengthM = boardId === null ? null : (library.boards.get(boardId)?.shape.lengthM ?? null)
    const atM = setup.weight?.atM ?? null
    if (lengthM !== null && atM !== null && atM > lengthM)
      return `The weight must lie on the plank: from 0 to ${lengthM} m from its entry end, not at ${atM} m.`
    return null
  }

  const handlers: ClipsHandlers = {
    'clips.list': async () => {
      const rideIds = rideIdsByClip(library)
      const cards = library.clips.list().map(async (clip) =>
        clipCard(library, clip, {
          rideIds: rideIds.get(clip.id) ?? [],
          isBeingMeasured: parts.isBeingMeasured(clip.id),
          isMissing: !(await files.isThere(clip)),
        }),
      )
      return success(await Promise.all(cards))
    },

    'clips.get': async ({ clipId }) => {
      const found = await files.find(clipId)
      const clip = found.ok ? found.value : library.clips.get(clipId)
      return clip === null ? GONE : success(await detail(clip))
    },

    'clips.takeIn': async ({ fileId }) => {
      const path = handed.pathOf(fileId)
      if (path === null) return problem('not-found', 'This file did not arrive: choose it again.')
      const taken = await takeInPath(path)
      // A copy that is not the one kept serves nobody.
      if (!clipPaths(library).includes(path)) await handed.letGo(fileId)
      return taken.ok ? success(await detail(taken.value)) : taken
    },

    'clips.findAgain': async ({ clipId, fileId }) => {
      const path = handed.pathOf(fileId)
      const clip = library.clips.get(clipId)
      if (clip === null) return GONE
      if (path === null) return problem('not-found', 'This file did not arrive: choose it again.')
      const probed = await files.read(path)
      if (!probed.ok || probed.value.sha256 !== clip.facts.sha256) {
        if (!clipPaths(library).includes(path)) await handed.letGo(fileId)
        return probed.ok
          ? problem('refused', `This is not the same clip as ${clip.facts.fileName}: choose that one.`)
          : probed
      }
      return change(clipId, (now) => ({ ...now, path: probed.value.path }))
    },

    'clips.setUp': ({ clipId, setup }) =>
      change(clipId, (now) => {
        refuse(setupFault(now, setup))
        return { ...now, setup }
      }),

    'clips.mark': ({ clipId, marks }) =>
      change(clipId, (now) => {
        refuse(frameFault(marks, now.facts.frameCount))
        return { ...now, marks }
      }),

    'clips.proposeMarks': async ({ clipId }) => {
      const found = await files.find(clipId)
      return found.ok ? parts.propose(found.value) : found
    },

    'clips.preparePictures': async ({ clipId }) => {
      const found = await files.find(clipId)
      if (!found.ok) return found
      pictures.prepare(clipId)
      return success(null)
    },

    'clips.remove': async ({ clipId }) => {
      if (library.clips.get(clipId) === null) return GONE
      await parts.stopMeasuring(clipId)
      const removed = await answered(async () => thereOr(await library.clips.remove(clipId), gone))
      if (removed.ok) await pictures.forget(clipId)
      return removed
    },
  }
  return { handlers, detail, takeInPath }
}

function refuse(fault: string | null): void {
  if (fault !== null) throw new LibraryProblem('bad-input', fault)
}

import { randomUUID } from 'node:crypto'
import { stat } from 'node:fs/promises'
import type { ClipFacts, ClipSetup } from '../contract/clips.ts'
import { type Outcome, success } from '../contract/outcome.ts'
import type { KeptClip, Library } from '../library/library.ts'
import { answered } from '../library/library-problem.ts'
import { slowMotionOf } from '../measuring/slow-motion-of.ts'
import { filmDay } from '../film/media/film-day.ts'
import type { ProbedClip } from '../film/media/probed-clip.ts'
import { likelySetup } from './arriving-service.ts'
import type { ClipFiles } from './clips-files.ts'
import { NO_MARKS } from '../../analysis/marking/marks-draft.ts'

const NOTHING_SAID: ClipSetup = {
  stretch: null,
  travel: null,
  slowMotion: null,
  dogId: null,
  boardId: null,
  title: '',
}

/**
 * Takes the clip at a path in, unless one of the same content is here: then that one, lying there now. Clips are taken
 * in one after another, so that the same file handed over twice is one clip.
 */
export function takingIn(
  library: Pick<Library, 'clips' | 'boards' | 'dogs'>,
  files: Pick<ClipFiles, 'read' | 'isThere'>,
): (path: string) => Promise<Outcome<KeptClip>> {
  let queue: Promise<unknown> = Promise.resolve()
  return (path) => {
    const turn = queue.then(async () => {
      const probed = await files.read(path)
      if (!probed.ok) return probed
      const { path: lyingAt, sha256 } = probed.value
      const known = library.clips.list().find((clip) => clip.facts.sha256 === sha256)
      if (known !== undefined && (await files.isThere(known))) return success(known)
      return answered(async () => {
        const again = known && (await library.clips.update(known.id, (now) => ({ ...now, path: lyingAt })))
        if (again != null) return again
        const taken = await clipTakenIn(probed.value, new Date())
        const clip = { ...taken, setup: likelySetup(library, taken) }
        await library.clips.put(clip)
        return clip
      })
    })
    queue = turn.catch(() => undefined)
    return turn
  }
}

/** A clip as it is kept when it comes into the library, with nothing said of it yet. */
async function clipTakenIn(clip: ProbedClip, now: Date): Promise<KeptClip> {
  return {
    id: randomUUID(),
    takenInAt: now.toISOString(),
    filmedOn: filmDay(clip.tags, now),
    path: clip.path,
    sizeBytes: (await stat(clip.path)).size,
    facts: factsOf(clip),
    frameTimesS: [...clip.video.fileTimesS],
    slowMotion: slowMotionOf(clip),
    setup: NOTHING_SAID,
    marks: NO_MARKS,
    sample: null,
  }
}

function factsOf(clip: ProbedClip): ClipFacts {
  const { video } = clip
  return {
    fileName: clip.fileName,
    sha256: clip.sha256,
    widthPx: video.widthPx,
    heightPx: video.heightPx,
    frameCount: video.fileTimesS.length,
    fileDurationS: video.fileDurationS,
    averageRateHz: video.averageRateHz,
    hasSound: clip.sound !== null,
    notes: clip.notes,
  }
}

import { randomUUID } from 'node:crypto'
import { stat } from 'node:fs/promises'
import type { ClipFacts, ClipSetup } from '../contract/clips.ts'
import type { KeptClip } from '../library/library.ts'
import { slowMotionOf } from '../measuring/measure-clip.ts'
import { filmDay } from '../media/film-day.ts'
import type { ProbedClip } from '../media/probed-clip.ts'
import { NO_MARKS } from './clips-marks.ts'

const NOTHING_SAID: ClipSetup = {
  stretch: null,
  travel: null,
  slowMotion: null,
  dogId: null,
  boardId: null,
  title: '',
}

/** A clip as it is kept when it comes into the library, with nothing said of it yet. */
export async function clipTakenIn(clip: ProbedClip, now: Date): Promise<KeptClip> {
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

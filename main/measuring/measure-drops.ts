import { dropFrom } from '../../analysis/drop/drop-from.ts'
import { withPhysics } from '../../analysis/drop/drop-physics.ts'
import { findWeight } from '../../analysis/drop/weight.ts'
import { findBoardEvents } from '../../analysis/ride/board-events.ts'
import { angleUncertainty } from './angle-uncertainty.ts'
import { damageNotes } from './damage-notes.ts'
import { followStretch } from './follow-stretch.ts'
import type { DropRequest, DropsOutcome, MeasuredDrop, MeasureDropsRequest } from './measured-ride.ts'
import { openClip } from './open-clip.ts'
import { failureOf } from './measure-clip.ts'
import { slowMotionOf } from './slow-motion-of.ts'

/** Measures drops of one board, one clip a drop. Throws the signal's reason when cancelled. */
export async function measureDrops(request: MeasureDropsRequest): Promise<DropsOutcome> {
  const drops: MeasuredDrop[] = []
  for (const drop of request.drops) {
    try {
      drops.push(await measureDrop(drop, request))
    } catch (error) {
      return failureOf(error)
    }
  }
  const told = withPhysics(
    drops.map(({ drop }) => drop),
    request.board,
  )
  return { kind: 'measured', drops: drops.map((one, k) => ({ ...one, drop: told.drops[k]! })), physics: told.physics }
}

async function measureDrop(drop: DropRequest, request: MeasureDropsRequest): Promise<MeasuredDrop> {
  const { board, signal, onProgress } = request
  const opened = await openClip({
    clipPath: drop.clipPath,
    marks: drop.marks,
    board,
    signal,
    onProgress,
    slowMotionFor: (clip) => slowMotionOf(clip).factor,
  })
  const durationS = opened.clip.video.fileDurationS / opened.slowMotionFactor
  const maker = await followStretch(opened, { fromS: 0, toS: durationS }, signal, onProgress, false)
  const { commonSdRad, scaleSd } = angleUncertainty(opened.calibration)
  const track = maker.boardTrack(commonSdRad, scaleSd)
  const boardEvents = findBoardEvents(track)
  const { tipStart } = boardEvents
  const weight = findWeight(maker.plankFilm(), drop.massAtM, tipStart.kind === 'measured' ? tipStart.value : null)
  return {
    drop: dropFrom({
      clip: opened.clip.fileName,
      massKg: drop.massKg,
      massAtM: drop.massAtM,
      track,
      boardEvents,
      weight,
      notes: damageNotes(opened, maker.damagedS()),
    }),
    picture: {
      board,
      calibration: opened.calibration,
      frameIndex: Int32Array.from(maker.frames, (f) => f.index),
      ptsS: track.ptsS,
      angleRad: track.angleRad,
      cameraMotion: maker.frames.map((f) => f.motion?.frameFromReference ?? new Float64Array(9).fill(NaN)),
    },
    source: { clip: opened.clip, ffmpeg: opened.ffmpeg },
  }
}

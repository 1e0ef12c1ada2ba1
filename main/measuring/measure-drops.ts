import { dropFrom } from '../../analysis/drop/drop-from.ts'
import { withPhysics } from '../../analysis/drop/drop-physics.ts'
import { type DropSpan, splitDrops, trackWithin } from '../../analysis/drop/split-drops.ts'
import { picturedSizes } from '../../analysis/board-sizes/picture-sizes.ts'
import { findWeight } from '../../analysis/drop/weight.ts'
import type { PlankFilm } from '../../analysis/dog/plank-film.ts'
import { baseShift } from '../../analysis/follow/base-shift.ts'
import { restsOf } from '../../analysis/ride/rests.ts'
import { findBoardEvents } from '../../analysis/ride/board-events.ts'
import { angleUncertainty } from './angle-uncertainty.ts'
import { damageNotes } from './damage-notes.ts'
import { followStretch } from './follow-stretch.ts'
import { originNotes } from './origin-notes.ts'
import type { DropRequest, DropsOutcome, MeasuredDrop, MeasureDropsRequest } from './measured-ride.ts'
import { openClip } from './open-clip.ts'
import { failureOf } from './measure-clip.ts'
import { slowMotionOf } from './slow-motion-of.ts'

/** Measures drops of one board, one or more in each clip. Throws the signal's reason when cancelled. */
export async function measureDrops(request: MeasureDropsRequest): Promise<DropsOutcome> {
  const drops: MeasuredDrop[] = []
  for (const drop of request.drops) {
    try {
      drops.push(...(await dropsOfClip(drop, request)))
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

async function dropsOfClip(asked: DropRequest, request: MeasureDropsRequest): Promise<readonly MeasuredDrop[]> {
  const { board, signal, onProgress } = request
  const opened = await openClip({
    clipPath: asked.clipPath,
    marks: asked.marks,
    board,
    signal,
    onProgress,
    slowMotionFor: (clip) => slowMotionOf(clip).factor,
  })
  const durationS = opened.clip.video.fileDurationS / opened.slowMotionFactor
  const maker = await followStretch(opened, { fromS: 0, toS: durationS }, signal, onProgress, false)
  const { commonSdRad, scaleSd } = angleUncertainty(opened.calibration)
  const track = maker.boardTrack(commonSdRad, scaleSd)
  const film = maker.plankFilm()
  const notes = damageNotes(opened, maker.damagedS())
  const sizes = picturedSizes(opened.calibration.basis)
  const origins = originNotes(request.origins, board)
  const falls = splitDrops(track).map((span) => {
    const part = trackWithin(track, span)
    const boardEvents = findBoardEvents(part)
    const { tipStart } = boardEvents
    const tipS = tipStart.kind === 'measured' ? tipStart.value : null
    return { span, track: part, boardEvents, weight: findWeight(filmWithin(film, span), asked.massAtM, tipS) }
  })
  const withWeight = falls.filter(({ weight }) => weight.placed.kind === 'measured')
  // The board came down more often than a weight was laid on: pushed by hand, for instance.
  const kept = withWeight.length === 0 ? falls.slice(0, 1) : withWeight
  const left = falls.length - kept.length
  return kept.map(({ span, ...found }, k) => ({
    drop: dropFrom({
      clip: opened.clip.fileName,
      massKg: asked.massKg,
      massAtM: asked.massAtM,
      ...found,
      sizes: k === 0 ? sizes : null,
      baseShiftM: baseShift(maker.restLooks, restsOf(found.track, found.weight.placed, found.boardEvents.grounded)),
      notes: k === 0 ? [...origins, ...notes, ...(left > 0 ? [leftOutNote(left)] : [])] : notes,
    }),
    picture: {
      board,
      calibration: opened.calibration,
      frameIndex: Int32Array.from(maker.frames.slice(span.from, span.to), (f) => f.index),
      ptsS: found.track.ptsS,
      angleRad: found.track.angleRad,
      cameraMotion: maker.frames
        .slice(span.from, span.to)
        .map((f) => f.motion?.frameFromReference ?? new Float64Array(9).fill(NaN)),
    },
    source: { clip: opened.clip, ffmpeg: opened.ffmpeg },
  }))
}

function leftOutNote(count: number): string {
  const times = count === 1 ? 'once more' : `${count} more times`
  return `The board came down ${times} in this clip without a weight seen being laid on: left out.`
}

function filmWithin(film: PlankFilm, { from, to }: DropSpan): PlankFilm {
  const { ptsS, strips, outlines } = film
  return { ...film, ptsS: ptsS.slice(from, to), strips: strips.slice(from, to), outlines: outlines.slice(from, to) }
}

import type { Board } from '../../analysis/board/board.ts'
import type { Marks } from '../../analysis/board/marks.ts'
import { missingIn, noneBecauseInWords } from '../../analysis/finding/marks-offer.ts'
import { marksOf } from '../../analysis/marking/marks-draft.ts'
import { NoFfmpegError, chooseFfmpeg } from '../film/engines/ffmpeg-choice.ts'
import type { Failure } from '../measuring/measured-ride.ts'
import { slowMotionOf } from '../measuring/slow-motion-of.ts'
import { ClipProblem } from '../film/media/clip-problem.ts'
import { probeClip } from '../film/media/probe-clip.ts'
import { foundProposal, roughlyFound } from './proposing-found.ts'

/** A clip whose plank nobody has marked. */
export interface UnmarkedClip {
  readonly clipPath: string
  readonly board: Board
  readonly slowMotion?: number
  /** Only this part of the clip, s of real time. */
  readonly fromS?: number
  readonly toS?: number
}

const BY_HAND = 'Mark it by hand (npm start opens the window for that) and give the file with --marks.'

/** Marks as the program finds them in the picture; a sentence where it finds none, or is not sure of all of them. */
export async function findMarks({
  clipPath,
  board,
  slowMotion,
  fromS = 0,
  toS = Infinity,
}: UnmarkedClip): Promise<{ readonly kind: 'found'; readonly marks: Marks } | Failure> {
  try {
    const ffmpeg = await chooseFfmpeg()
    const clip = await probeClip(clipPath, ffmpeg)
    const { fileTimesS } = clip.video
    const slowMotionFactor = slowMotion ?? slowMotionOf(clip).factor
    const frameAt = (timeS: number): number => {
      const next = fileTimesS.findIndex((time) => time / slowMotionFactor >= timeS)
      return next < 0 ? fileTimesS.length - 1 : next
    }
    const open = { clip, ffmpeg }
    const stretch = { fromFrame: frameAt(fromS), toFrame: frameAt(toS) }
    const wanted = { path: clipPath, fileName: clip.fileName, stretch, travel: null, slowMotionFactor, board }
    const rough = await roughlyFound(open, wanted)
    const proposal = await foundProposal(open, wanted, rough)
    if (typeof proposal === 'string') {
      const why = noneBecauseInWords(proposal)
      return { kind: 'nothing', detail: `The plank was not found for sure in ${clip.fileName}. ${why} ${BY_HAND}` }
    }
    const whole = marksOf(proposal.marks, { fileName: clip.fileName, travel: null })
    if (whole.ok) return { kind: 'found', marks: whole.value }
    const { rest, grounded } = proposal.marks
    const missing = rest === null || grounded === null ? null : missingIn({ rest, grounded })
    return {
      kind: 'nothing',
      detail: `The plank was found only in part in ${clip.fileName}. ${missing ?? ''} Then give the file with --marks (npm start opens the window to mark in).`,
    }
  } catch (error) {
    if (error instanceof ClipProblem || error instanceof NoFfmpegError)
      return { kind: 'unreadable', detail: error.message }
    throw error
  }
}

import type { ClipSetup } from '../../main/contract/clips.ts'
import type { Moment } from './mark-point.ts'

/**
 * Frames to begin the search with: the board rests at the beginning of a stretch, and has mostly landed towards its end.
 */
export function firstFrames(stretch: ClipSetup['stretch'], frameCount: number): Readonly<Record<Moment, number>> {
  const { fromFrame, toFrame } = stretch ?? { fromFrame: 0, toFrame: frameCount - 1 }
  return { rest: fromFrame, grounded: Math.round(fromFrame + 0.75 * (toFrame - fromFrame)) }
}

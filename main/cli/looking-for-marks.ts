import type { Marks } from '../../analysis/board/marks.ts'
import type { Failure, OnProgress } from '../measuring/measured-ride.ts'
import type { findMarks, UnmarkedClip } from '../services/finding-marks.ts'

/** What looking for the plank needs from outside. */
export interface LookingTools {
  readonly findMarks: typeof findMarks
  readonly signal: AbortSignal
  readonly onProgress: OnProgress
}

/** The plank as the program finds it, or why it does not. Throws the signal's reason when cancelled. */
export async function lookForMarks(
  clip: UnmarkedClip,
  { findMarks, signal, onProgress }: LookingTools,
): Promise<Marks | Failure> {
  onProgress({ step: 'looking', doing: 'looking for the plank', framesDone: 0, framesTotal: 0 })
  const found = await findMarks(clip)
  signal.throwIfAborted()
  return found.kind === 'found' ? found.marks : found
}

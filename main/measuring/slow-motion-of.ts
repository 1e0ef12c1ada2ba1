import { slowMotionFromTags, type SlowMotion } from '../../analysis/clip/slow-motion.ts'
import type { ProbedClip } from '../film/media/probed-clip.ts'

/** What a clip's tags say about slow motion. */
export function slowMotionOf(clip: ProbedClip): SlowMotion {
  const tag = Number(clip.tags.get('com.android.capture.fps') ?? NaN)
  return slowMotionFromTags({
    captureRateHz: Number.isFinite(tag) && tag > 0 ? tag : null,
    storedRateHz: clip.video.averageRateHz,
  })
}

import { mapImage } from '../camera/camera-motion.ts'
import type { SeesawCamera } from '../calibration/seesaw-camera.ts'
import type { Frame } from '../clip/frame.ts'
import { sampleColour } from '../clip/sampling.ts'
import type { FaceColours } from './plank-appearance.ts'

/** The board may lie this far beyond where it rests and where it has landed, rad. */
const BEYOND_RAD = 0.02
/** Near the pivot every angle looks alike: this far to either side of it, m. */
const PIVOT_M = 0.4
/** Colours count more than grey levels, which shadows change. */
const COLOUR_WEIGHT = 1.5
/** A pixel that differs by more than this, grey levels, counts no more. */
const MOST_DIFFERENCE = 30
/** Fewer places compared say nothing of an angle. */
const LEAST_PLACES = 20
/** Angles closer together than this are no rivals, rad, and the best must have less than this share of a rival's misfit. */
const RIVAL_RAD = 0.05
const CLEARLY = 0.8

/**
 * The board's angle to about a degree, before the background is known: the angle at which the plank's middle line has
 * the plank's colours along its whole length.
 *
 * @param near the near face's colours, one triple a bin of `binM`
 * @param camera the calibrated seesaw camera
 * @param frame the decoded picture
 * @param frameFromReference camera motion, reference image px to this frame's
 * @param gain brightness of this frame over the reference
 * @returns rad, or null where no angle stands out
 */
export function roughAngle(
  camera: SeesawCamera,
  near: FaceColours,
  binM: number,
  frame: Frame,
  frameFromReference: Float64Array,
  gain: number,
): number | null {
  const from = camera.restAngleRad - BEYOND_RAD
  const to = camera.groundedAngleRad + BEYOND_RAD
  const step = 0.006
  const scores: { angleRad: number; score: number }[] = []
  const colour = new Float32Array(3)
  for (let angleRad = from; angleRad <= to; angleRad += step) {
    let sum = 0
    let count = 0
    for (let bin = 1; bin < near.length / 3; bin += 3) {
      const alongM = (bin + 0.5) * binM
      if (Math.abs(alongM - camera.lengthM / 2) < PIVOT_M) continue
      const p = camera.imageFromPlank({ alongM, aboveM: -camera.thicknessM / 2, acrossM: 0 }, angleRad)
      const q = mapImage(frameFromReference, p)
      if (!sampleColour(frame, q.xPx, q.yPx, colour, 0)) continue
      const d = Math.hypot(
        colour[0]! / gain - near[3 * bin]!,
        COLOUR_WEIGHT * (colour[1]! - near[3 * bin + 1]!),
        COLOUR_WEIGHT * (colour[2]! - near[3 * bin + 2]!),
      )
      sum += Math.min(1, d / MOST_DIFFERENCE)
      count++
    }
    if (count >= LEAST_PLACES) scores.push({ angleRad, score: sum / count })
  }
  if (scores.length === 0) return null
  const best = scores.reduce((a, b) => (b.score < a.score ? b : a))
  const rival = scores
    .filter((s) => Math.abs(s.angleRad - best.angleRad) > RIVAL_RAD)
    .reduce((m, s) => Math.min(m, s.score), 1)
  return best.score < CLEARLY * rival ? best.angleRad : null
}

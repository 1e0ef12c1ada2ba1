import type { Marks } from '../board/marks.ts'
import { mapImage } from '../camera/camera-motion.ts'
import { invertHomography } from '../geometry/homography.ts'

/**
 * The marks with the grounded ones carried over to the rest marks' frame, so that a camera that moved in between does
 * not matter.
 *
 * @param groundedFromRest camera motion, image px of the rest frame to image px of the grounded frame
 */
export function marksInRestFrame(marks: Marks, groundedFromRest: Float64Array): Marks {
  if (marks.grounded === undefined) return marks
  const restFromGrounded = invertHomography(groundedFromRest)
  return {
    ...marks,
    grounded: {
      frame: marks.grounded.frame,
      entryEnd: mapImage(restFromGrounded, marks.grounded.entryEnd),
      exitEnd: mapImage(restFromGrounded, marks.grounded.exitEnd),
    },
  }
}

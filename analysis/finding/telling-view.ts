import type { SeesawCamera } from '../calibration/seesaw-camera.ts'

/**
 * Of four offers from a stand of 3 m two lay 3 to 5 px off, along a wrong edge or another height; all four cameras were
 * steeper than this. Chosen on those clips; rad, about 17 deg.
 */
const STEEPEST_RAD = 0.3
/** Nearer half / further half in the picture; the one wrong offer from aside had 1.42. Some 28 deg at 6 m. */
const MOST_UNEVEN = 1.35

/** Why a view does not tell the near edge from the others. */
export type ViewFault = 'from-above' | 'from-aside'

/**
 * Whether a camera that was found sees the plank so that its near edge can be told from the others.
 *
 * @param camera as found
 * @param heightM how high it stands, m
 * @param pivotHeightM of the board, m
 * @returns null for a view that tells them apart
 * @example A camera 3 m high and 6.2 m from the landing looks down on a pivot of 0.61 m by 21 deg, which is too steep.
 */
export function viewFault(camera: SeesawCamera, heightM: number, pivotHeightM: number): ViewFault | null {
  const steepRad = Math.atan2(heightM - pivotHeightM, camera.distanceToLandingM)
  const [entry, middle, exit] = [0, camera.lengthM / 2, camera.lengthM].map((alongM) =>
    camera.imageFromPlank({ alongM, aboveM: 0, acrossM: 0 }, 0),
  )
  const first = Math.hypot(entry!.xPx - middle!.xPx, entry!.yPx - middle!.yPx)
  const second = Math.hypot(exit!.xPx - middle!.xPx, exit!.yPx - middle!.yPx)
  const uneven = Math.max(first, second) / Math.min(first, second)
  if (steepRad >= STEEPEST_RAD) return 'from-above'
  return uneven < MOST_UNEVEN ? null : 'from-aside'
}

import type { SeesawCamera } from '../calibration/seesaw-camera.ts'

/**
 * Where the plank's outline lies in the motion plane as the camera sees it, at one board angle. All heights are
 * `aboveM` of the plane through the near edge, linear along the plank: value at the entry end and at the exit end.
 */
export interface PlankOutline {
  /** The far top edge; above 0 the top face is seen, below 0 the underside. */
  readonly farTopM: readonly [number, number]
  /** How much further along than it is the far edge appears (yaw), m. */
  readonly farShiftM: readonly [number, number]
  /** The lowest visible edge of near face and underside. */
  readonly bottomM: readonly [number, number]
}

/**
 * The plank as a box of width and thickness, seen by the calibrated camera.
 *
 * @param camera calibrated; @param angleRad board angle, rad
 * @returns heights in m in the near edge's plane, e.g. farTopM about [0.03, 0.02] from 1.2 m camera height
 */
export function plankOutline(camera: SeesawCamera, angleRad: number): PlankOutline {
  const { lengthM, widthM, thicknessM } = camera
  const seen = (alongM: number, aboveM: number) =>
    camera.plankFromImage(camera.imageFromPlank({ alongM, aboveM, acrossM: widthM }, angleRad), angleRad, 0)
  const entry = seen(0, 0)
  const exit = seen(lengthM, 0)
  const entryBelow = seen(0, -thicknessM)
  const exitBelow = seen(lengthM, -thicknessM)
  return {
    farTopM: [entry.aboveM, exit.aboveM],
    farShiftM: [entry.alongM, exit.alongM - lengthM],
    bottomM: [Math.min(-thicknessM, entryBelow.aboveM), Math.min(-thicknessM, exitBelow.aboveM)],
  }
}

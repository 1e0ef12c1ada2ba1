import type { SeesawCamera } from '../calibration/seesaw-camera.ts'
import type { CameraMotion } from '../camera/camera-motion.ts'
import { multiply3 } from '../camera/rotation.ts'
import type { Frame } from '../clip/frame.ts'
import { sampleColour } from '../clip/sampling.ts'
import { plankOutline } from '../scene/plank-outline.ts'

/** Where a look at the resting plank was taken: a lattice in the plane through its near top edge. */
export interface RestGrid {
  readonly stepM: number
  readonly fromAlongM: number
  readonly fromAboveM: number
  readonly columns: number
  readonly rows: number
  /** The outline's upper and lower edge, m above the near top edge, at the entry end and at the exit end. */
  readonly topM: readonly [number, number]
  readonly bottomM: readonly [number, number]
  readonly lengthM: number
}

/** The resting plank as one frame shows it: Y, U, V of each point of a `RestGrid`, 0 where nothing is seen. */
export interface RestLook {
  readonly ptsS: number
  readonly angleRad: number
  readonly yuv: Uint8Array
}

/** Room about the plank, px. */
const MARGIN_PX = 4

/**
 * The lattice for a camera.
 *
 * @param camera calibrated
 * @param stepM size of a decoded pixel at the plank, m
 */
export function restGrid(camera: SeesawCamera, stepM: number): RestGrid {
  const { lengthM } = camera
  const { farTopM, bottomM } = plankOutline(camera, camera.restAngleRad)
  const topM = [Math.max(0, farTopM[0]), Math.max(0, farTopM[1])] as const
  const marginM = MARGIN_PX * stepM
  const fromAboveM = Math.min(...bottomM) - marginM
  return {
    stepM,
    fromAlongM: -marginM,
    fromAboveM,
    columns: Math.ceil((lengthM + 2 * marginM) / stepM) + 1,
    rows: Math.ceil((Math.max(...topM) + marginM - fromAboveM) / stepM) + 1,
    topM,
    bottomM,
    lengthM,
  }
}

/**
 * Looks at the resting plank where it would be, had the base not moved.
 *
 * @param frame in which the board rests at `angleRad`
 * @param motion of the camera since the reference frame
 * @param camera calibrated; @param grid of the camera
 * @returns what is seen at each point of the lattice
 */
export function restLook(
  frame: Frame,
  motion: CameraMotion,
  camera: SeesawCamera,
  angleRad: number,
  grid: RestGrid,
): RestLook {
  const map = multiply3(motion.frameFromReference, camera.homographyAt(angleRad, 0))
  const yuv = new Uint8Array(3 * grid.columns * grid.rows)
  const colour = new Float32Array(3)
  for (let row = 0, at = 0; row < grid.rows; row++) {
    const aboveM = grid.fromAboveM + row * grid.stepM
    for (let column = 0; column < grid.columns; column++, at += 3) {
      const alongM = grid.fromAlongM + column * grid.stepM
      const w = map[6]! * alongM + map[7]! * aboveM + map[8]!
      const xPx = (map[0]! * alongM + map[1]! * aboveM + map[2]!) / w
      const yPx = (map[3]! * alongM + map[4]! * aboveM + map[5]!) / w
      if (!sampleColour(frame, xPx, yPx, colour, 0)) continue
      yuv[at] = Math.min(255, Math.max(1, Math.round(colour[0]! / motion.gain)))
      yuv[at + 1] = Math.round(colour[1]!)
      yuv[at + 2] = Math.round(colour[2]!)
    }
  }
  return { ptsS: frame.ptsS, angleRad, yuv }
}

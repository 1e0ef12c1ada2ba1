import type { SeesawCamera } from '../calibration/seesaw-camera.ts'
import type { CameraMotion } from '../camera/camera-motion.ts'
import { multiply3 } from '../camera/rotation.ts'
import type { Frame } from '../clip/frame.ts'
import { sampleColour } from '../clip/sampling.ts'
import type { ExpectedPicture } from '../scene/expected-picture.ts'

/** The grid of a strip: a band along the plank that moves with it, in the plane through the near edge. */
export interface StripGrid {
  /** First column and row, m along and above; centres of the cells. */
  readonly fromAlongM: number
  readonly fromAboveM: number
  readonly cellM: number
  readonly columns: number
  readonly rows: number
}

/** What does not belong to the empty seesaw in the band along the plank, in one frame. */
export interface Strip {
  readonly ptsS: number
  readonly angleRad: number
  /**
   * Difference from the expected picture in tenths of its sd (colour, texture and noise together), 0-254, row by row
   * from the lowest; 255 where nothing is known.
   */
  readonly strangeness: Uint8Array
}

export const UNKNOWN_CELL = 255

/**
 * A grid for a board: from half a metre before the plank to half a metre behind it.
 *
 * @param cellM size of a cell, about a decoded pixel, m; @param heightM how far above the plank
 * @param lengthM length of the plank, m
 */
export function stripGrid(lengthM: number, cellM: number, heightM: number): StripGrid {
  const beyondM = 0.5
  const belowM = 0.12
  return {
    fromAlongM: -beyondM,
    fromAboveM: -belowM,
    cellM,
    columns: Math.ceil((lengthM + 2 * beyondM) / cellM),
    rows: Math.ceil((belowM + heightM) / cellM),
  }
}

/** On the plank a darkening that keeps the colour is probably a shadow: it counts only so much. */
const SHADE_SHARE = 0.25

/** Shade takes light and colour away alike, down to half or so; a dark leg takes more, a coloured one changes the hue. */
function isShade(y: number, want: Float32Array, du: number, dv: number): boolean {
  const share = (y - 16) / Math.max(1, want[0]! - 16)
  if (share < 0.45 || share > 0.97) return false
  const offU = du - (share - 1) * (want[1]! - 128)
  const offV = dv - (share - 1) * (want[2]! - 128)
  return Math.abs(offU) < 7 && Math.abs(offV) < 7
}

/**
 * Compares a frame with the expected picture over the grid.
 *
 * @param camera the calibrated seesaw camera
 * @param motion camera motion of the frame
 * @param shiftM how far the plank lies above where the camera's motion puts it, m
 * @returns one cell a place, `UNKNOWN_CELL` where the picture or the background does not reach
 */
export function cutStrip(
  frame: Frame,
  motion: CameraMotion,
  camera: SeesawCamera,
  expected: ExpectedPicture,
  shiftM: number,
  grid: StripGrid,
): Strip {
  const strangeness = new Uint8Array(grid.columns * grid.rows).fill(UNKNOWN_CELL)
  const map = multiply3(motion.frameFromReference, camera.homographyAt(expected.angleRad, 0))
  const want = new Float32Array(7)
  const got = new Float32Array(3)
  let i = 0
  for (let row = 0; row < grid.rows; row++) {
    const above = grid.fromAboveM + row * grid.cellM
    for (let column = 0; column < grid.columns; column++, i++) {
      const along = grid.fromAlongM + column * grid.cellM
      const y = above + shiftM
      const w = map[6]! * along + map[7]! * y + map[8]!
      if (
        !sampleColour(
          frame,
          (map[0]! * along + map[1]! * y + map[2]!) / w,
          (map[3]! * along + map[4]! * y + map[5]!) / w,
          got,
          0,
        )
      )
        continue
      expected.sample(along, above, want, 0)
      if (Number.isNaN(want[0]!)) continue
      const dy = got[0]! / motion.gain - want[0]!
      const du = got[1]! - want[1]!
      const dv = got[2]! - want[2]!
      // The plank's edges are known to about a third of a cell.
      const edgeY = 0.35 * grid.cellM * want[4]!
      const edgeU = 0.35 * grid.cellM * want[5]!
      const edgeV = 0.35 * grid.cellM * want[6]!
      const varianceY = 9 + 1.5 * want[3]! * want[3]! + edgeY * edgeY
      const varianceUv = 6 + 0.08 * want[3]! * want[3]! + edgeU * edgeU + edgeV * edgeV
      const d = Math.sqrt((dy * dy) / varianceY + (du * du + dv * dv) / varianceUv)
      const shade = above <= expected.topM(along) && isShade(got[0]! / motion.gain, want, du, dv) ? SHADE_SHARE : 1
      strangeness[i] = Math.min(254, Math.round(10 * shade * d))
    }
  }
  return { ptsS: frame.ptsS, angleRad: expected.angleRad, strangeness }
}

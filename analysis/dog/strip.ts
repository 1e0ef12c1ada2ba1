import type { SeesawCamera } from '../calibration/seesaw-camera.ts'
import type { CameraMotion } from '../camera/camera-motion.ts'
import { multiply3 } from '../camera/rotation.ts'
import type { Frame } from '../clip/frame.ts'
import { planeFromImage, sampleDecoded } from '../clip/sampling.ts'
import type { ExpectedStrip } from './expected-strip.ts'
import type { StripGrid } from './strip-grid.ts'

/** What does not belong to the empty seesaw in the band along the plank, in one frame. */
export interface Strip {
  readonly ptsS: number
  readonly angleRad: number
  /**
   * Difference from the expected picture in tenths of its sd (colour, texture and noise together), 0-254, row by row
   * from the lowest; 255 where nothing is known.
   */
  readonly deviation: Uint8Array
}

export const UNKNOWN_CELL = 255

/** On the plank a darkening that keeps the colour is probably a shadow: it counts only so much. */
const SHADE_SHARE = 0.25

/**
 * Compares a frame with the expected picture over the grid.
 *
 * @param frame the decoded picture
 * @param motion camera motion of the frame
 * @param camera the calibrated seesaw camera
 * @param angleRad board angle in the frame, rad
 * @param expected what the band looks like without a dog, at an angle next to this one
 * @param shiftM how far the plank lies above where the camera's motion puts it, m
 * @param grid where the strip's cells lie along and above the plank
 * @returns one cell a place, `UNKNOWN_CELL` where the picture or the background does not reach
 */
export function cutStrip(
  frame: Frame,
  motion: CameraMotion,
  camera: SeesawCamera,
  angleRad: number,
  expected: ExpectedStrip,
  shiftM: number,
  grid: StripGrid,
): Strip {
  const deviation = new Uint8Array(grid.columns * grid.rows).fill(UNKNOWN_CELL)
  const imageFromPlank = multiply3(motion.frameFromReference, camera.homographyAt(angleRad, 0))
  const m = multiply3(planeFromImage(frame.view, 1), imageFromPlank)
  const { y: wantY, u: wantU, v: wantV, precisionY, precisionUv, rowsOnPlank } = expected
  const { columns, rows, fromAlongM, cellM } = grid
  const got = new Float32Array(3)
  const brightness = 1 / motion.gain
  let i = 0
  for (let row = 0; row < rows; row++) {
    const aboveM = grid.fromAboveM + row * cellM + shiftM
    const x0 = m[1]! * aboveM + m[2]!
    const y0 = m[4]! * aboveM + m[5]!
    const z0 = m[7]! * aboveM + m[8]!
    for (let column = 0; column < columns; column++, i++) {
      if (Number.isNaN(wantY[i]!)) continue
      const alongM = fromAlongM + column * cellM
      const z = 1 / (m[6]! * alongM + z0)
      if (!sampleDecoded(frame, (m[0]! * alongM + x0) * z, (m[3]! * alongM + y0) * z, got, 0)) continue
      const y = got[0]! * brightness
      const dy = y - wantY[i]!
      const du = got[1]! - wantU[i]!
      const dv = got[2]! - wantV[i]!
      const d = Math.sqrt(dy * dy * precisionY[i]! + (du * du + dv * dv) * precisionUv[i]!)
      const isShaded = row < rowsOnPlank[column]! && isShade(y, wantY[i]!, wantU[i]!, wantV[i]!, du, dv)
      deviation[i] = Math.min(MOST_DEVIATION, Math.floor(STEPS_A_SD * (isShaded ? SHADE_SHARE : 1) * d + 0.5))
    }
  }
  return { ptsS: frame.ptsS, angleRad, deviation }
}

/** Deviations are kept in tenths of a sd, in a byte whose highest value means unknown. */
const STEPS_A_SD = 10
const MOST_DEVIATION = 254
/** Luma of black, and chroma of grey, as video codes them (ITU-R BT.601). */
const BLACK = 16
const GREY = 128
/** What shade leaves of the light, and how far it may move the chroma, levels (our judgement, from clips of our own). */
const SHADE = { from: 0.45, to: 0.97, hue: 7 } as const

/**
 * Whether a place is probably only in the shade: shade takes light and colour away alike, down to half or so; a dark
 * leg takes more, a coloured one changes the hue.
 *
 * @param y luma seen, 0-255
 * @param wantY luma expected; @param wantU chroma expected; @param wantV likewise
 * @param du chroma seen less expected; @param dv likewise
 * @param darkest share of the light that is left in the deepest shade
 * @returns true for a shade
 * @example isShade(70, 100, 128, 128, 0, 0) // true
 */
export function isShade(
  y: number,
  wantY: number,
  wantU: number,
  wantV: number,
  du: number,
  dv: number,
  darkest: number = SHADE.from,
): boolean {
  const share = (y - BLACK) / Math.max(1, wantY - BLACK)
  if (share < darkest || share > SHADE.to) return false
  const offU = du - (share - 1) * (wantU - GREY)
  const offV = dv - (share - 1) * (wantV - GREY)
  return Math.abs(offU) < SHADE.hue && Math.abs(offV) < SHADE.hue
}

import type { Board } from '../board/board.ts'
import { landingAngleRad, type SeesawPose } from './pinhole-seesaw.ts'
import type { PictureSize } from './seesaw-camera.ts'

/**
 * What is believed about the unknowns before any click, as independent normal distributions. The fit works on
 * z-scores (value = mean + sd z), so that all unknowns have one size and the prior's residuals are the z-scores.
 */
export interface PosePriors {
  readonly names: readonly PoseUnknown[]
  readonly means: Float64Array
  readonly sds: Float64Array
}

export type PoseUnknown = (typeof POSE_UNKNOWNS)[number]

export const POSE_UNKNOWNS = [
  'logFocal',
  'principalX',
  'principalY',
  'yaw',
  'pitch',
  'roll',
  'right',
  'height',
  'logDistance',
  'rest',
  'grounded',
  'axisBelowTop',
  'thickness',
] as const

/** Bounds of the board's unknown build, m. */
export const AXIS_RANGE_M = [0, 0.1] as const
export const THICKNESS_RANGE_M = [0.01, 0.12] as const

/** Evenness of the ground under each end relative to the base, 1 sd, m (common practice, no source: mown grass, sand, carpet). */
export const GROUND_SD_M = 0.015

const degrees = Math.PI / 180

/**
 * The priors of a clip filmed by a person standing or crouching beside the seesaw with a phone held near level.
 *
 * Focal length: phones film at 24-40 mm on the 36 mm long side, stabilisation crops a little (from memory).
 * Axis and thickness: those of the board file when it gives them, else what boards commonly have.
 */
export function posePriors(board: Board, picture: PictureSize): PosePriors {
  const longSidePx = Math.max(picture.widthPx, picture.heightPx)
  const axisM = board.axisBelowTopM ?? 0.045
  const thicknessM = board.thicknessM ?? 0.04
  const landingRad = landingAngleRad(board, axisM, thicknessM)
  const table: Record<PoseUnknown, readonly [mean: number, sd: number]> = {
    logFocal: [Math.log((31 / 36) * longSidePx), 0.3],
    principalX: [picture.widthPx / 2, 0.01 * longSidePx],
    principalY: [picture.heightPx / 2, 0.01 * longSidePx],
    yaw: [0, 25 * degrees],
    pitch: [-5 * degrees, 6 * degrees],
    roll: [0, 2 * degrees],
    right: [0, 4],
    height: [1.2, 0.4],
    logDistance: [Math.log(6.5), 0.6],
    // Broad: clicks and the physics of the resting end decide.
    rest: [-landingRad, 6 * degrees],
    grounded: [landingRad, 6 * degrees],
    axisBelowTop: [axisM, board.axisBelowTopM === undefined ? 0.025 : 0.004],
    thickness: [thicknessM, board.thicknessM === undefined ? 0.012 : 0.002],
  }
  return {
    names: POSE_UNKNOWNS,
    means: Float64Array.from(POSE_UNKNOWNS, (name) => table[name][0]),
    sds: Float64Array.from(POSE_UNKNOWNS, (name) => table[name][1]),
  }
}

/**
 * The pose that a vector of z-scores stands for.
 *
 * @param z at least one number for each of `POSE_UNKNOWNS`, in that order
 * @returns the axis' depth is held within its bounds, so that a fit may lean on them
 */
export function poseFromZ(z: ArrayLike<number>, { means, sds }: PosePriors): SeesawPose {
  const value = (index: number): number => means[index]! + sds[index]! * z[index]!
  return {
    focalPx: Math.exp(value(0)),
    principalXPx: value(1),
    principalYPx: value(2),
    yawRad: value(3),
    pitchRad: value(4),
    rollRad: value(5),
    rightM: value(6),
    heightM: value(7),
    distanceM: Math.exp(value(8)),
    restAngleRad: value(9),
    groundedAngleRad: value(10),
    axisBelowTopM: clamp(value(11), AXIS_RANGE_M),
    thicknessM: clamp(value(12), THICKNESS_RANGE_M),
  }
}

/** Whether a vector of z-scores stands for a board that can be built and a camera before it. */
export function isPossible(z: ArrayLike<number>, { means, sds }: PosePriors): boolean {
  const axisM = means[11]! + sds[11]! * z[11]!
  const thicknessM = means[12]! + sds[12]! * z[12]!
  const restRad = means[9]! + sds[9]! * z[9]!
  return (
    axisM >= AXIS_RANGE_M[0] &&
    axisM <= AXIS_RANGE_M[1] &&
    thicknessM >= THICKNESS_RANGE_M[0] &&
    thicknessM <= THICKNESS_RANGE_M[1] &&
    restRad < 0
  )
}

function clamp(value: number, [least, most]: readonly [number, number]): number {
  return Math.min(Math.max(value, least), most)
}

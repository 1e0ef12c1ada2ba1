import type { Board } from '../board/board.ts'
import { worldProjection, type SeesawPose } from './pinhole-seesaw.ts'

/**
 * The unknowns of a calibration, chosen as what the picture shows (where the pivot is, how wide a metre, how steep the
 * plank's line) instead of where the camera stands: clicks then act almost linearly on them, although focal length and
 * distance are known only together. A vector of unknowns holds them in this order.
 */
export const VIEW_UNKNOWNS = [
  'logFocal',
  'principalXPx',
  'principalYPx',
  'distortion',
  'pitchRad',
  'rollRad',
  /** Image of the turning axis at the near edge, px of the straight picture. */
  'pivotXPx',
  'pivotYPx',
  /** log of the px that a level metre along the plank takes at the pivot. */
  'logPxPerM',
  /** Relative change of depth per metre to the right along the level plank, 1/m. */
  'recedingPerM',
  /** Slope of the plank's line in the picture at rest and with the exit end down, rad, positive with the exit end lower. */
  'restSlopeRad',
  'groundedSlopeRad',
  'axisBelowTopM',
  'thicknessM',
] as const

export type ViewUnknown = (typeof VIEW_UNKNOWNS)[number]

/** A change of each unknown that moves points by about a pixel: steps for numeric derivatives. */
export const TYPICAL_CHANGES: Record<ViewUnknown, number> = {
  logFocal: 0.03,
  principalXPx: 3,
  principalYPx: 3,
  distortion: 0.01,
  pitchRad: 0.02,
  rollRad: 0.02,
  pivotXPx: 1,
  pivotYPx: 1,
  logPxPerM: 0.003,
  recedingPerM: 0.003,
  restSlopeRad: 0.004,
  groundedSlopeRad: 0.004,
  axisBelowTopM: 0.005,
  thicknessM: 0.005,
}

/** Bounds of how deep below the top surface the axis lies, m (rule books: at most 0.10). */
export const AXIS_RANGE_M = [0, 0.1] as const
export const THICKNESS_RANGE_M = [0.01, 0.12] as const

/** The index of the unknown with this name in the vector. */
export function indexOf(name: ViewUnknown): number {
  return VIEW_UNKNOWNS.indexOf(name)
}

/**
 * The camera pose and board build that a vector of unknowns stands for.
 *
 * The sight line to the pivot fixes the camera up to its azimuth A and range R along it; a metre along the plank then
 * takes f cos A / R px and recedes by sin A / R, which gives both. The board angles are those whose direction at the
 * pivot appears with the given slopes.
 *
 * @param unknowns at least one number for each of `VIEW_UNKNOWNS`, in that order
 * @param board height of the top surface at mid length, m
 * @param exitSide 1 when the exit end lies to the right in the picture, else -1
 * @returns the axis' depth and the thickness are held within their bounds, so that a fit may lean on them
 */
export function poseFromView(
  unknowns: ArrayLike<number>,
  board: Pick<Board, 'pivotHeightM'>,
  exitSide: 1 | -1,
): SeesawPose {
  const focalPx = Math.exp(unknowns[0]!)
  const principalXPx = unknowns[1]!
  const principalYPx = unknowns[2]!
  const pitchRad = unknowns[4]!
  const rollRad = unknowns[5]!
  const pivotXPx = unknowns[6]!
  const pivotYPx = unknowns[7]!
  const pxPerM = Math.exp(unknowns[8]!)
  const recedingPerM = unknowns[9]!
  const axisBelowTopM = clamp(unknowns[12]!, AXIS_RANGE_M)
  // Sight line to the pivot in the level camera's axes: to the right, forward and up, per unit of optical depth.
  const xSight = (pivotXPx - principalXPx) / focalPx
  const ySight = (pivotYPx - principalYPx) / focalPx
  const rightwards = Math.cos(rollRad) * xSight - Math.sin(rollRad) * ySight
  const overAxis = -Math.sin(rollRad) * xSight - Math.cos(rollRad) * ySight
  const forwards = Math.cos(pitchRad) - Math.sin(pitchRad) * overAxis
  const upwards = Math.sin(pitchRad) + Math.cos(pitchRad) * overAxis
  const azimuthRad = Math.atan((recedingPerM * focalPx) / pxPerM)
  const rangeM = (focalPx * Math.cos(azimuthRad)) / pxPerM
  const level = Math.hypot(rightwards, forwards)
  const pose = {
    focalPx,
    principalXPx,
    principalYPx,
    distortion: unknowns[3]!,
    yawRad: azimuthRad - Math.atan2(rightwards, forwards),
    pitchRad,
    rollRad,
    rightM: -rangeM * Math.sin(azimuthRad),
    heightM: board.pivotHeightM - axisBelowTopM - (rangeM * upwards) / level,
    distanceM: rangeM * Math.cos(azimuthRad),
    axisBelowTopM,
    thicknessM: clamp(unknowns[13]!, THICKNESS_RANGE_M),
    restAngleRad: 0,
    groundedAngleRad: 0,
  }
  const p = worldProjection(pose, exitSide)
  // How a step in the world's x and y moves the pivot's image, up to a common factor.
  const xx = p[0]! - pivotXPx * p[8]!
  const xy = p[1]! - pivotXPx * p[9]!
  const yx = p[4]! - pivotYPx * p[8]!
  const yy = p[5]! - pivotYPx * p[9]!
  const angleOfSlope = (slopeRad: number): number => {
    const dx = exitSide * Math.cos(slopeRad)
    const dy = Math.sin(slopeRad)
    const side = Math.sign(xx * yy - xy * yx)
    return Math.atan2(-side * (xx * dy - yx * dx), side * (yy * dx - xy * dy))
  }
  return { ...pose, restAngleRad: angleOfSlope(unknowns[10]!), groundedAngleRad: angleOfSlope(unknowns[11]!) }
}

function clamp(value: number, [least, most]: readonly [number, number]): number {
  return Math.min(Math.max(value, least), most)
}

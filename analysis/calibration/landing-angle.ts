import type { Board } from '../board/board.ts'

/**
 * Height of a resting end's lower corner over the level ground: an end lands on its lower edge, not on the marked one.
 *
 * The lower corner lies half a length out from the axis and (axisBelowTopM - thicknessM) above it.
 *
 * @param board length and height of the top surface at mid length, m
 * @param axisBelowTopM the turning axis below the top surface, m
 * @param thicknessM of the plank, m
 * @param angleRad board angle; the end that is down counts, whichever it is
 * @returns m; 0 where that end rests, negative when it would be in the ground
 */
export function lowerCornerHeightM(
  board: Pick<Board, 'lengthM' | 'pivotHeightM'>,
  axisBelowTopM: number,
  thicknessM: number,
  angleRad: number,
): number {
  const angle = Math.abs(angleRad)
  const axisHeightM = board.pivotHeightM - axisBelowTopM
  return axisHeightM + (axisBelowTopM - thicknessM) * Math.cos(angle) - (board.lengthM / 2) * Math.sin(angle)
}

/**
 * Size of the angle at which an end rests on level ground: the root of `lowerCornerHeightM`.
 *
 * @param board length and height of the top surface at mid length, m
 * @param axisBelowTopM the turning axis below the top surface, m
 * @param thicknessM of the plank, m
 * @returns rad, positive
 * @example landingAngleRad({ lengthM: 3.66, pivotHeightM: 0.61 }, 0.045, 0.04) // 0.3166 rad = 18.14 deg
 */
export function landingAngleRad(
  board: Pick<Board, 'lengthM' | 'pivotHeightM'>,
  axisBelowTopM: number,
  thicknessM: number,
): number {
  const half = board.lengthM / 2
  const drop = axisBelowTopM - thicknessM
  // (half) sin - (drop) cos = reach sin(angle - phase).
  const sine = (board.pivotHeightM - axisBelowTopM) / Math.hypot(half, drop)
  return Math.asin(Math.min(sine, 1)) + Math.atan2(drop, half)
}

import type { BoardSpec } from '../scenario.ts'
import type { Vec3 } from '../world/vector.ts'

/** How the plank stands at one instant. Angles in rad: 0 level, negative while the entry end is down. */
export interface BoardPlace {
  readonly angleRad: number
  /** How far the exit end is bent down from the straight plank, m. */
  readonly bendM: number
}

/** The bent shape of the exit half, 0 at the pivot and 1 at the end: a cantilever with a load at its tip. */
export function bendShape(alongM: number, lengthM: number): number {
  const t = (alongM - lengthM / 2) / (lengthM / 2)
  return t <= 0 ? 0 : (t * t * (3 - t)) / 2
}

/** World place of a point fixed to the plank: along from the entry end, above the top surface, z across. */
export function worldFromPlank(board: BoardSpec, at: BoardPlace, alongM: number, aboveM: number, z: number): Vec3 {
  const c = Math.cos(at.angleRad)
  const s = Math.sin(at.angleRad)
  const d = alongM - board.lengthM / 2
  const n = board.axisBelowTopM + aboveM - at.bendM * bendShape(alongM, board.lengthM)
  return [d * c + n * s, board.pivotHeightM - board.axisBelowTopM - d * s + n * c, z]
}

/** Along and above (over the bent top surface) of a world place. */
export function plankFromWorld(board: BoardSpec, at: BoardPlace, p: Vec3): { alongM: number; aboveM: number } {
  const c = Math.cos(at.angleRad)
  const s = Math.sin(at.angleRad)
  const x = p[0]
  const y = p[1] - (board.pivotHeightM - board.axisBelowTopM)
  const alongM = board.lengthM / 2 + x * c - y * s
  const aboveM =
    x * s + y * c - board.axisBelowTopM + at.bendM * bendShape(Math.min(alongM, board.lengthM), board.lengthM)
  return { alongM, aboveM }
}

/** Height over the ground of the exit end's lower corner. */
export function exitCornerHeightM(board: BoardSpec, at: BoardPlace): number {
  return worldFromPlank(board, at, board.lengthM, -board.thicknessM, 0)[1]
}

/** The angle at which the exit end's lower corner touches the ground, the plank straight: found by bisection. */
export function groundedAngleRad(board: BoardSpec): number {
  let low = 0
  let high = 0.8
  for (let i = 0; i < 60; i++) {
    const middle = (low + high) / 2
    if (exitCornerHeightM(board, { angleRad: middle, bendM: 0 }) > 0) low = middle
    else high = middle
  }
  return (low + high) / 2
}

/** The angle seen from outside: of the straight line between the two ends of the top edge. */
export function chordAngleRad(board: BoardSpec, at: BoardPlace): number {
  const a = worldFromPlank(board, at, 0, 0, 0)
  const b = worldFromPlank(board, at, board.lengthM, 0, 0)
  return Math.atan2(a[1] - b[1], b[0] - a[0])
}

export const nearEdgeZ = (board: BoardSpec, side: 1 | -1): number => (side * board.widthM) / 2

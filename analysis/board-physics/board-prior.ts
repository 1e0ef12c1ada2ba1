import type { Board } from '../board/board.ts'
import { uniformPlankInertiaKgM2 } from './seesaw-law.ts'

/** What is known of a board before it is tried. */
export interface BoardPrior {
  /** Median of the inertia, kg m², and 1 sd of its natural logarithm. */
  readonly inertiaKgM2: number
  readonly logInertiaSd: number
}

/** Planks weigh from about 6 to 25 kg, median of this, kg (common practice: wood and aluminium planks with rubber). */
const USUAL_PLANK_KG = 13
/** 1 sd of the logarithm: 95 % of planks within 5.4 and 31 kg. */
const USUAL_SPREAD = 0.45
/**
 * How well a uniform plank's inertia tells that of a real one, 1 sd: rubber and paint are even, fittings sit near the
 * axis, end pieces far from it (an estimate).
 */
const UNIFORM_SPREAD = 0.05
/** m (common practice). */
const USUAL_THICKNESS_M = 0.04

/** Ordinary torques that hold the entry end down: middle and 1 sd, N m (an estimate: boards that pass a rule book's test have some 8 to 11). */
export const BIAS_NM = { middle: 9, sd: 8 } as const
/** Dry friction of an axle is seldom more than twice this, N m; smaller ones are likelier (an estimate). */
export const COULOMB_SD_NM = 1.2
/** The same for friction that grows with speed, N m s: of air and of stiff axles (an estimate). */
export const VISCOUS_SD_NMS = 15
/** The middle of a test weight lies so far over the axis, m: weights are flat or tall (an estimate). */
export const OVER_AXIS_M = { middle: 0.05, sd: 0.04 } as const

/**
 * What a plank's length, and its weight if that is known, tell of its inertia.
 *
 * @param board sizes in m; its mass is used when `plankKg` is null
 * @param plankKg the plank's weight, kg, without its base; null when nobody weighed it
 * @returns the inertia of a uniform plank with its spread
 * @example boardPrior({ lengthM: 3.66, widthM: 0.3, pivotHeightM: 0.61, contactM: 0.914, thicknessM: 0.04 }, 12).inertiaKgM2 // 13.3972
 */
export function boardPrior(board: Board, plankKg: number | null): BoardPrior {
  const massKg = plankKg ?? board.massKg ?? null
  return {
    inertiaKgM2: uniformPlankInertiaKgM2(
      massKg ?? USUAL_PLANK_KG,
      board.lengthM,
      board.thicknessM ?? USUAL_THICKNESS_M,
    ),
    logInertiaSd: massKg === null ? USUAL_SPREAD : UNIFORM_SPREAD,
  }
}

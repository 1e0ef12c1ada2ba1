/** Standard gravity, m/s² (CGPM 1901). */
export const GRAVITY_MPS2 = 9.80665

/** What decides how a board moves, as in `droptest.json`. */
export interface BoardLaw {
  /** Of the board alone, about its axis, kg m². */
  readonly inertiaKgM2: number
  /** Torque that holds the entry end down with the plank level, N m; acts as bias x cos(angle). */
  readonly biasTorqueNm: number
  /** Dry friction of the axle, N m, >= 0; at rest it holds against as much. */
  readonly coulombNm: number
  /** Friction that grows with the turning speed, N m s, >= 0. */
  readonly viscousNms: number
}

/** A weight that lies on the plank. */
export interface Load {
  readonly massKg: number
  /** Along the plank from the pivot, m; positive on the exit half. */
  readonly fromPivotM: number
  /** Of its middle over the turning axis, square to the plank, m. */
  readonly overAxisM: number
}

/** No weight at all. */
export const UNLOADED: Load = { massKg: 0, fromPivotM: 0, overAxisM: 0 }

/**
 * Torque of weight and bias without friction.
 *
 * @param law the board
 * @param load the weight on it
 * @param angleRad board angle, 0 level, negative with the entry end down
 * @returns N m, positive when it turns the exit end down
 * @example drivingTorqueNm({ inertiaKgM2: 15, biasTorqueNm: 8, coulombNm: 0, viscousNms: 0 }, { massKg: 1, fromPivotM: 1.373, overAxisM: 0 }, 0) // 5.4645
 */
export function drivingTorqueNm(law: BoardLaw, load: Load, angleRad: number): number {
  const weightN = load.massKg * GRAVITY_MPS2
  return (
    (weightN * load.fromPivotM - law.biasTorqueNm) * Math.cos(angleRad) + weightN * load.overAxisM * Math.sin(angleRad)
  )
}

/**
 * Inertia of board and weight together.
 *
 * @param law the board
 * @param load the weight on it, taken as a point
 * @returns kg m²
 * @example inertiaWithKgM2({ inertiaKgM2: 15, biasTorqueNm: 0, coulombNm: 0, viscousNms: 0 }, { massKg: 2, fromPivotM: 1.5, overAxisM: 0 }) // 19.5
 */
export function inertiaWithKgM2(law: BoardLaw, { massKg, fromPivotM, overAxisM }: Load): number {
  return law.inertiaKgM2 + massKg * (fromPivotM * fromPivotM + overAxisM * overAxisM)
}

/**
 * The same board with a mass fastened to it, or with a negative mass taken off.
 *
 * @param law the board as it is
 * @param massKg kg; negative: taken off
 * @param fromPivotM where, m from the pivot; positive on the exit half
 * @returns the changed board
 */
export function withMass(law: BoardLaw, massKg: number, fromPivotM: number): BoardLaw {
  return {
    ...law,
    inertiaKgM2: law.inertiaKgM2 + massKg * fromPivotM * fromPivotM,
    biasTorqueNm: law.biasTorqueNm - massKg * GRAVITY_MPS2 * fromPivotM,
  }
}

/**
 * Inertia of a uniform plank about an axis through its middle, a little below it.
 *
 * M (L² + t²) / 12, any mechanics handbook, with the axis at the plank's middle.
 *
 * @param massKg kg
 * @param lengthM m
 * @param thicknessM m
 * @returns kg m²
 * @example uniformPlankInertiaKgM2(12, 3.66, 0) // 13.3956
 */
export function uniformPlankInertiaKgM2(massKg: number, lengthM: number, thicknessM: number): number {
  return (massKg * (lengthM * lengthM + thicknessM * thicknessM)) / 12
}

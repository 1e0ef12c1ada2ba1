/**
 * How fast and how long an animal steps at a speed. Stride length over hip height and the share of a stride that a
 * paw stays down follow the Froude number v^2 / (g h); the two power laws are remembered from the literature on
 * dynamic similarity of walking animals and serve looks only.
 */
export interface Stride {
  readonly lengthM: number
  readonly rateHz: number
  /** Share of the stride in which a paw is planted. */
  readonly duty: number
  /** When each paw lands within the stride, in strides: LF, RF, LH, RH. */
  readonly landing: readonly [number, number, number, number]
  /** 0 walk, 1 trot, 2 gallop, and between. */
  readonly gait: number
}

export function strideAt(speedMps: number, hipHeightM: number, gallops: boolean): Stride {
  const speed = Math.max(0.05, Math.abs(speedMps))
  const froude = (speed * speed) / (9.80665 * hipHeightM)
  const lengthM = 2.4 * hipHeightM * froude ** 0.34
  const gait =
    froude < 0.35
      ? 0
      : froude < 0.6
        ? (froude - 0.35) / 0.25
        : gallops && froude > 2
          ? Math.min(2, 1 + (froude - 2) / 0.5)
          : 1
  // A planted paw swings at most half a leg's length to either side of its girdle.
  const duty = Math.min(0.72, 0.51 * froude ** -0.13 - (gait > 1 ? 0.1 * (gait - 1) : 0), hipHeightM / lengthM)
  return { lengthM, rateHz: speed / lengthM, duty, landing: landingOrder(gait), gait }
}

const WALK = [0.25, 0.75, 0, 0.5] as const
const TROT = [0.5, 1, 0, 0.5] as const
const GALLOP = [0.62, 0.75, 0, 0.13] as const

/** The order of landing: lateral sequence walk, diagonal trot, gallop; blended between. */
function landingOrder(gait: number): [number, number, number, number] {
  const [from, to, t] = gait <= 1 ? [WALK, TROT, gait] : [TROT, GALLOP, gait - 1]
  return [0, 1, 2, 3].map((i) => from[i]! + (to[i]! - from[i]!) * t) as [number, number, number, number]
}

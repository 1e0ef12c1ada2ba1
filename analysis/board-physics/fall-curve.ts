import { quantile } from '../numeric/robust.ts'
import type { BoardFit } from './board-fit.ts'
import { swingFrom } from './swing.ts'
import type { WeightTest } from './weight-test.ts'

/** How the board's angle goes in a rule set's test: parallel arrays, times on the rule set's clock. */
export interface FallCurve {
  readonly timesS: readonly number[]
  /** Middle, and the band that holds it for 95 % of the boards that agree with the drops, deg. */
  readonly angleDeg: readonly number[]
  readonly lowDeg: readonly number[]
  readonly highDeg: readonly number[]
}

const DEGREES = 180 / Math.PI
/** Points of a drawn curve, and boards that it is drawn from: more change nothing that can be seen (ours). */
const POINTS = 61
const MOST_DRAWS = 200
/** Middle, and the bounds of 95 %. */
const BAND = { low: 0.025, middle: 0.5, high: 0.975 } as const

/**
 * The fall as a curve, for drawing.
 *
 * @param fit what the drops tell of the board
 * @param test the rule set's test
 * @param lengthM of the plank, m
 * @param untilS where the curve ends, s of the rule set's clock
 * @returns null where no drop shows how the board moves
 */
export function fallCurve(fit: BoardFit, test: WeightTest, lengthM: number, untilS: number): FallCurve | null {
  if (fit.settled === 'nothing') return null
  const every = Math.max(1, Math.floor(fit.draws.length / MOST_DRAWS))
  const groundRad = fit.restRad + fit.swingRad
  const swings = fit.draws
    .filter((_, k) => k % every === 0)
    .map(({ law, overAxisM }) => {
      const load = { massKg: test.massKg, fromPivotM: test.massAtM - lengthM / 2, overAxisM }
      return swingFrom(law, load, fit.restRad, 1, untilS)
    })
  const timesS = Array.from({ length: POINTS }, (_, k) => (k * untilS) / (POINTS - 1))
  const at = (share: number) =>
    timesS.map((timeS) => {
      const angles = swings.map((swing) => fit.restRad + swing.turnRad(timeS - test.handS.value))
      return DEGREES * Math.min(groundRad, quantile(angles, share))
    })
  return { timesS, angleDeg: at(BAND.middle), lowDeg: at(BAND.low), highDeg: at(BAND.high) }
}

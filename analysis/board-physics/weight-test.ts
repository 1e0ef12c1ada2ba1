import type { Board } from '../board/board.ts'
import { measured, withheld, type Estimate, type Measured } from '../estimate.ts'
import { seededRandom } from '../numeric/random.ts'
import { testMassAlongM, type DropRule } from '../rules/rule-sets.ts'
import type { BoardDraw, BoardFit } from './board-fit.ts'
import { fromDraws, shareOf } from './draws-summary.ts'
import type { DropCurve } from './drop-curve.ts'
import { isAlike, scatterOfFallsS } from './repeated-drops.ts'
import type { BoardLaw } from './seesaw-law.ts'
import { landingOf } from './swing.ts'

/** How a rule set tries a board: a weight is laid on, and the board must land in time. */
export interface WeightTest {
  readonly massKg: number
  /** m along from the entry end. */
  readonly massAtM: number
  /** From the start of the rule set's clock to the hand's being off, s; 0 when the clock starts as the hand is off. */
  readonly handS: Measured
  /** From drop to drop the fall differs by this, 1 sd, s. */
  readonly repeatS: number
  /** Null: no lower limit. */
  readonly leastS: number | null
  readonly mostS: number
}

export type FallVerdict = 'within' | 'too-fast' | 'too-slow' | 'never-moves' | 'too-close'

export interface FallPrediction {
  /** As the rule set times it, s. */
  readonly fallS: Estimate
  readonly verdict: FallVerdict
}

/** A hand holds a weight that it has laid down about this long, s (common practice). */
const USUAL_HAND_S = 0.4
/** Hands that were not surely off sooner or later than usual, by this much, say nothing else, s (ours: half a frame at 25 a second). */
const HAND_SLACK_S = 0.02
/** A hand as the rule set means it repeats to this, 1 sd, s (an estimate). */
const HAND_SD_S = 0.008
/** Times of one board repeat no better than this, 1 sd, s (an estimate). */
const REPEAT_S = 0.004
/** What is as unlikely as this is left out of a verdict: 95 % intervals leave as much out on either side. */
const UNLIKELY = 0.025
/** No hand is timed better than this, 1 sd, s (an estimate: a third of a frame at 60 a second). */
const BEST_HAND_SD_S = 0.005
/** Hands are drawn the same in every run. */
const SEED = 4

/**
 * The test that a rule set prescribes, on this board, with a hand as the drops show it.
 *
 * @param rule weight, place, clock and limits
 * @param board sizes, m
 * @param curves the drops; how long their hands stayed is used where it surely differs from 0.4 s
 * @returns the test
 */
export function weightTest(rule: DropRule, board: Board, curves: readonly DropCurve[]): WeightTest {
  const { massKg, leastS, mostS } = rule
  const handS = rule.timedFrom === 'released' ? measured(0, 0) : handTime(curves)
  const repeatS = Math.hypot(REPEAT_S, scatterOfFallsS(curves))
  return { massKg, massAtM: testMassAlongM(rule.where, board), handS, repeatS, leastS, mostS }
}

function handTime(curves: readonly DropCurve[]): Measured {
  const seen = curves.flatMap(({ handS }) => (handS === null ? [] : [handS]))
  if (seen.length === 0) return measured(USUAL_HAND_S, HAND_SD_S)
  const weights = seen.map(({ sd }) => 1 / Math.max(sd, BEST_HAND_SD_S) ** 2)
  const weight = weights.reduce((sum, w) => sum + w, 0)
  const value = seen.reduce((sum, { value: v }, k) => sum + v * weights[k]!, 0) / weight
  const sd = 1 / Math.sqrt(weight)
  return Math.abs(value - USUAL_HAND_S) < 2 * Math.hypot(sd, HAND_SLACK_S)
    ? measured(USUAL_HAND_S, HAND_SD_S)
    : measured(value, sd)
}

/**
 * How long a board takes from the hand's being off to the landing, for each board that agrees with the drops.
 *
 * @param fit what the drops tell of the board
 * @param load kg, and m from the pivot
 * @param draws which boards; all of the fit's if absent
 * @param change what is done to the board first, if anything
 * @returns s; Infinity where it stays at rest or stops on the way
 */
export function fallTimes(
  fit: BoardFit,
  load: { readonly massKg: number; readonly fromPivotM: number },
  draws: readonly BoardDraw[] = fit.draws,
  change: (law: BoardLaw) => BoardLaw = (law) => law,
): number[] {
  return draws.map(({ law, overAxisM }) => {
    const landing = landingOf(change(law), { ...load, overAxisM }, fit.restRad, fit.swingRad, 1)
    return landing === null ? Infinity : landing.afterS
  })
}

/**
 * How long the board takes in a rule set's test, and what that means.
 *
 * @param fit what the drops tell of the board
 * @param test the rule set's test
 * @param board sizes, m
 * @param curves the drops; where no frames show the motion, those with the test's own weight are taken as they were timed
 * @returns `never-moves` with a withheld time when all but unlikely boards stay at rest; `too-close` when the interval
 *   holds a limit, or when it is open whether the board moves
 */
export function predictFall(
  fit: BoardFit,
  test: WeightTest,
  { lengthM }: Pick<Board, 'lengthM'>,
  curves: readonly DropCurve[] = [],
): FallPrediction {
  if (fit.draws.length === 0) return asTimed(curves, test)
  const times = fallTimes(fit, { massKg: test.massKg, fromPivotM: test.massAtM - lengthM / 2 })
  return judged(withHand(times, test), test)
}

/**
 * Times of a rule set's clock from times since the hand was off.
 *
 * @param times s
 * @param test its hand, s, and how well its falls repeat
 * @returns s, each with a hand of its own, as single drops would be timed
 */
export function withHand(times: readonly number[], { handS, repeatS }: WeightTest): number[] {
  const random = seededRandom(SEED)
  return times.map((timeS) => timeS + handS.value + Math.hypot(handS.sd, repeatS) * random.normal())
}

/** Without frames: what was timed with the very weight of the test at the very place. */
function asTimed(curves: readonly DropCurve[], test: WeightTest): FallPrediction {
  const alike = curves.filter((curve) => isAlike(curve, test))
  const falls = alike.flatMap(({ fallFromPlacedS, fallFromReleasedS }) => {
    const fallS = test.handS.value === 0 ? fallFromReleasedS : fallFromPlacedS
    return fallS === null ? [] : [fallS]
  })
  if (falls.length === 0) {
    const isHeld = alike.some(({ moved }) => moved === false)
    return isHeld ? { fallS: NEVER, verdict: 'never-moves' } : { fallS: NOT_SEEN, verdict: 'too-close' }
  }
  const weights = falls.map(({ sd }) => 1 / Math.hypot(sd, test.repeatS) ** 2)
  const weight = weights.reduce((sum, w) => sum + w, 0)
  const fallS = measured(
    falls.reduce((sum, { value }, k) => sum + value * weights[k]!, 0) / weight,
    Math.hypot(1 / Math.sqrt(weight), falls.length > 1 ? test.repeatS : 0),
  )
  return { fallS, verdict: verdictOf(fallS.ci95[0], fallS.ci95[1], test.leastS ?? 0, test.mostS) }
}

function judged(times: readonly number[], { leastS, mostS }: WeightTest): FallPrediction {
  const falls = times.filter(Number.isFinite)
  const never = 1 - falls.length / times.length
  if (never >= 1 - UNLIKELY) return { fallS: NEVER, verdict: 'never-moves' }
  if (never > UNLIKELY) {
    const least = [...falls].sort((a, b) => a - b)[Math.floor(UNLIKELY * falls.length)]!
    const tooSlow = shareOf(times, (timeS) => timeS > mostS) >= 1 - UNLIKELY
    const verdict = !tooSlow ? 'too-close' : isLikely(never) ? 'never-moves' : 'too-slow'
    return { fallS: { kind: 'atLeast', value: least }, verdict }
  }
  const fallS = fromDraws(falls)
  const [early, late] = fallS.ci95
  return { fallS, verdict: verdictOf(early, late, leastS ?? 0, mostS) }
}

function isLikely(share: number): boolean {
  return share > 1 - share
}

function verdictOf(early: number, late: number, leastS: number, mostS: number): FallVerdict {
  if (early > mostS) return 'too-slow'
  if (late < leastS) return 'too-fast'
  return early >= leastS && late <= mostS ? 'within' : 'too-close'
}

const NEVER = withheld('never-tipped', 'The board does not move under this weight.')
const NOT_SEEN = withheld(
  'not-seen',
  'No drop shows how this board moves: film the drop from the side, from before the weight is laid on until it has landed.',
)

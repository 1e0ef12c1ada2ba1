import type { Board } from '../board/board.ts'
import type { Estimate } from '../estimate.ts'
import { boardSizes, type BoardSizes } from '../board-sizes/board-sizes.ts'
import type { PictureSizes } from '../board-sizes/picture-sizes.ts'
import { checkBuild, type BuildFinding } from '../rules/build-check.ts'
import type { DropRule, RuleSet } from '../rules/rule-sets.ts'
import { adviceFor, type AdviceWithheld } from './advice.ts'
import type { AdviceOption, Counterweight } from './advice-option.ts'
import { type BoardFit, fitBoard } from './board-fit.ts'
import { dropCurve, type DropRecord } from './drop-curve.ts'
import { fallCurve, type FallCurve } from './fall-curve.ts'
import { boardFeel, type BoardFeel } from './feel.ts'
import { physicsOf, type BoardPhysics } from './physics-of.ts'
import { repeatedDrops, type RepeatedDrops } from './repeated-drops.ts'
import { returnSwing, type ReturnSwing } from './return-swing.ts'
import { withRides } from './ridden-board.ts'
import type { WeighedRide } from './weighed-ride.ts'
import { boardWear, type BoardWear } from './wear.ts'
import { predictFall, weightTest, type FallVerdict } from './weight-test.ts'

/** What is asked about a board. */
export interface BoardCheckRequest {
  readonly drops: readonly DropRecord[]
  readonly board: Board
  /** The plank's weight without its base, kg; null when nobody weighed it. */
  readonly plankKg: number | null
  readonly rules: RuleSet & { readonly drop: { readonly says: DropRule } }
  readonly counterweights: readonly Counterweight[]
  /** Rides of weighed dogs on this board: they sharpen its feel, and nothing that a rule book asks for. */
  readonly rides?: readonly WeighedRide[]
  /** Its sizes as the marks of other clips show them. */
  readonly pictures?: readonly PictureSizes[]
}

/** A board held against a rule set: what `boardcheck.json` says. */
export interface BoardCheck {
  readonly physics: BoardPhysics
  /** As the rule set's clock runs, s. */
  readonly fallS: Estimate
  readonly verdict: FallVerdict
  /** Drops with one weight at one place, where there are several. */
  readonly repeats: readonly RepeatedDrops[]
  /** The board's history, where drops of several days are known. */
  readonly wear: readonly BoardWear[]
  readonly advice: readonly AdviceOption[]
  readonly adviceWithheld: AdviceWithheld | null
  /** The test that `fallS` is for. */
  readonly test: {
    readonly massKg: number
    readonly massAtM: number
    readonly timedFrom: 'placed' | 'released'
    readonly handS: number
    readonly leastS: number | null
    readonly mostS: number
  }
  /** The sizes that were entered. */
  readonly dimensions: readonly BuildFinding[]
  /** The sizes that pictures show; null where no picture was marked. */
  readonly sizes: BoardSizes | null
  readonly feel: BoardFeel
  readonly returnSwing: ReturnSwing
  /** The fall in the test, for drawing; null where no drop shows how the board moves. */
  readonly curve: FallCurve | null
  readonly restAngleDeg: number
  readonly swingDeg: number
  /** What the drops settle. */
  readonly settled: 'nothing' | 'ratios' | 'board'
}

const DEGREES = 180 / Math.PI

/**
 * What drops tell of a board, for any rule set.
 *
 * @param request drops of one board, its sizes in m, and the plank's weight, kg, if somebody weighed it
 * @returns boards that agree with the drops
 */
export function fittedBoard({
  drops,
  board,
  plankKg,
}: Pick<BoardCheckRequest, 'drops' | 'board' | 'plankKg'>): BoardFit {
  return fitBoard(
    drops.map((drop) => dropCurve(drop, board.lengthM)),
    board,
    plankKg,
  )
}

/**
 * Checks a board by its drops against one rule set.
 *
 * @param request drops of one board, its sizes in m, and the rule set, which must prescribe a drop
 * @param fit what `fittedBoard` says of the same drops
 * @returns physics, fall and verdict, advice or why there is none, sizes, feel and the way back
 */
export function checkBoard(request: BoardCheckRequest, fit = fittedBoard(request)): BoardCheck {
  const { drops, board, rules, counterweights, rides = [], pictures = [] } = request
  const curves = drops.map((drop) => dropCurve(drop, board.lengthM))
  const test = weightTest(rules.drop.says, board, curves)
  const fall = predictFall(fit, test, board, curves)
  const advice = adviceFor(fit, test, fall, board, counterweights)
  return {
    physics: physicsOf(fit),
    ...fall,
    repeats: repeatedDrops(drops),
    wear: boardWear(drops),
    advice: advice.options,
    adviceWithheld: advice.withheld,
    test: {
      massKg: test.massKg,
      massAtM: test.massAtM,
      timedFrom: rules.drop.says.timedFrom === 'released' ? 'released' : 'placed',
      handS: test.handS.value,
      leastS: test.leastS,
      mostS: test.mostS,
    },
    dimensions: checkBuild(board, rules),
    sizes: boardSizes([...drops.flatMap(({ sizes }) => sizes ?? []), ...pictures], board, rules),
    feel: boardFeel(withRides(fit, rides, board), board, { drops: drops.length, rides: rides.length }),
    returnSwing: returnSwing(fit, board.lengthM),
    curve: fallCurve(fit, test, board.lengthM, test.mostS + 1),
    restAngleDeg: fit.restRad * DEGREES,
    swingDeg: fit.swingRad * DEGREES,
    settled: fit.settled,
  }
}

import type { Board } from '../board/board.ts'
import { ensembleSample } from '../numeric/ensemble-sampler.ts'
import { leastSquares, type LeastSquaresFit } from '../numeric/least-squares.ts'
import { choleskyFactor, solveTransposed } from '../numeric/matrix.ts'
import { seededRandom } from '../numeric/random.ts'
import { median } from '../numeric/robust.ts'
import { boardPrior } from './board-prior.ts'
import { BoardProblem, lawAt, SHARED, type Weighed } from './board-problem.ts'
import type { DropCurve, FreeSwing } from './drop-curve.ts'
import { GRAVITY_MPS2, type BoardLaw } from './seesaw-law.ts'

/** Noise of a frame's angle before any fit has told it, rad (0.11 deg; an estimate). */
const FIRST_NOISE_RAD = 0.002
/** Where the first guess is of a board that would not move, less holds it, by this share at a time, so often (ours: down to a sixth). */
const EASING = 0.97
const MOST_EASINGS = 60
/** Where the search for the best fit stops (ours). */
const SEARCH = { maxIterations: 60, tolerance: 1e-6 } as const
/** A logarithm of the inertia that is known beforehand to this, 1 sd, was told by a weighed plank (ours: between the spreads of `boardPrior`). */
const WEIGHED_LOG_SD = 0.2
/** Sizes that nobody gave, m: usual planks (common practice). */
const USUAL_M = { thicknessM: 0.04, axisBelowTopM: 0.045 } as const
/**
 * A start for the search: holding torque, dry friction at most and as a share of it, N m; speed friction, N m s; height of
 * the weight, m; which share of the weight's torque holds the board at least; the lightest board, kg m² (ours).
 */
const START = {
  holdingNm: 9.6,
  coulombNm: 0.6,
  coulombShare: 4,
  viscousNms: 1,
  overAxisM: 0.03,
  leastHeld: 0.2,
  leastInertiaKgM2: 2,
} as const
/** A motion is timed between these shares of its way: past the rest, before the landing (ours). */
const TIMED_BETWEEN = [0.06, 0.6] as const
/** The median of absolute deviations of a normal distribution of sd 1. */
const MAD_OF_NORMAL = 0.6745
/** So many parameters bend to one swing's frames; a short one keeps at least one frame in three free. */
const BENT_BY = 5
const LEAST_FREE = 3
/** Scatter from frame to frame is not taken to go on more surely than this (correlation; ours). */
const MOST_GOING_ON = 0.9
/** Draws are the same in every run. */
const SEED = 20
/** A start of a walker that is too unlikely is drawn nearer by this share; where no covariance is known, steps are this share of a parameter (ours). */
const NEARER = 0.8
const BLIND_STEP = 0.01
/** A diagonal is raised by this share so that rounding does not spoil it. */
const RAISED = 1e-9
/** A spread of the walkers' starts as small as this finds nothing that a smaller one would. */
const LEAST_SPREAD = 1e-9
/** Walkers for each parameter, and parameters beside the board's: Goodman and Weare's sampler wants more than twice as many. */
const WALKERS = { each: 4, beside: 2 } as const
/** Fits with frames weighed anew: noise and wild frames have settled by then (ours). */
const REWEIGHED = 2

/** One board that agrees with what was seen. */
export interface BoardDraw {
  readonly law: BoardLaw
  /** How far the middle of a test weight lies over the axis, m. */
  readonly overAxisM: number
}

/** What drops tell of a board. */
export interface BoardFit {
  /** Boards that agree with the drops, as likely as they are many. */
  readonly draws: readonly BoardDraw[]
  /** When each swing began, s of its clip, in the order of the drops and their swings: middle and 1 sd. */
  readonly begins: readonly { readonly value: number; readonly sd: number }[]
  /** What the drops settle: nothing but what a board must have, ratios to the inertia, or the board. */
  readonly settled: 'nothing' | 'ratios' | 'board'
  /** Angle with the entry end down, and how far it swings, rad. */
  readonly restRad: number
  readonly swingRad: number
}

/** How long is sampled; a test may do with less. */
export interface FitLength {
  readonly settle: number
  readonly keep: number
}

/** Sweeps of the sampler, and every how many of them are kept (ours; `npm run bench:boards` counts what the intervals hold). */
const USUAL_LENGTH: FitLength = { settle: 150, keep: 240 }
const KEPT_EVERY = 6
/** Residuals further out than this do not count, sd (ours). */
const WILD = 5
/** Walkers start no further below the best fit than this, in logarithms of the density, and one for each parameter (ours). */
const FAR_OUT = 4
/** Frames of a calm film may be this sure and no surer, rad (0.01 deg; an estimate). */
const LEAST_NOISE_RAD = 0.00017

/**
 * Fits the board's physics to its drops: by least squares first, then by draws from the whole posterior, because one drop
 * alone leaves long ridges.
 *
 * Angles count by their own scatter about the fit; scatter that goes on from frame to frame counts for less. A drop in
 * which the board did not move rules out the boards that would have moved. Without any of both there are no draws.
 *
 * @param curves the drops of one board
 * @param board its sizes, m, and its plank's weight, kg, if known
 * @param plankKg the plank's weight if it was given beside, kg
 * @param length how long to sample
 * @returns draws from the posterior; with no motion seen they are what boards are like that would not have moved
 */
export function fitBoard(
  curves: readonly DropCurve[],
  board: Board,
  plankKg: number | null,
  length: FitLength = USUAL_LENGTH,
): BoardFit {
  const prior = boardPrior(board, plankKg)
  const swings = curves.flatMap((curve) => curve.swings)
  const still = curves.filter((curve) => curve.moved === false)
  const restRad = restAngle(curves, board)
  const swingRad = swingAngle(curves, restRad)
  if (swings.length === 0 && still.length === 0) return { draws: [], begins: [], settled: 'nothing', restRad, swingRad }
  const weigh = (noises: readonly number[]): Weighed[] =>
    swings.map((swing, k) => ({ swing, noiseRad: noises[k]!, keep: new Uint8Array(swing.timesS.length).fill(1) }))
  const start = firstGuess(swings, still, prior.inertiaKgM2, board.lengthM)
  let weighed = weigh(swings.map(() => FIRST_NOISE_RAD))
  let problem = new BoardProblem(weighed, still, board.lengthM, restRad, prior)
  // Only boards that move tell the search which way to go.
  for (let tries = 0; !problem.isPossible(start) && tries < MOST_EASINGS; tries++) start[1]! *= EASING
  if (!problem.isPossible(start)) {
    // The same board cannot stay under a weight and fall under a lighter one: the drops that were followed count.
    return fitBoard(
      curves.filter(({ moved }) => moved !== false),
      board,
      plankKg,
      length,
    )
  }
  let fit = leastSquares(problem, start, SEARCH)
  for (let round = 0; round < REWEIGHED; round++) {
    weighed = weighed.map((one, k) => reweighed(one, problem.misfitRad(fit.parameters, k)))
    problem = new BoardProblem(weighed, still, board.lengthM, restRad, prior)
    fit = leastSquares(problem, fit.parameters, SEARCH)
  }
  const draws = sample(problem, fit, length)
  const masses = new Set(curves.flatMap((c) => (c.swings.length > 0 ? [`${c.massKg}@${c.massAtM}`] : [])))
  return {
    draws: draws.map((at) => ({ law: lawAt(at), overAxisM: at[4]! })),
    begins: swings.map((_, k) => middleAndSd(draws.map((at) => at[SHARED + k]!))),
    settled:
      swings.length === 0 ? 'nothing' : masses.size > 1 || prior.logInertiaSd < WEIGHED_LOG_SD ? 'board' : 'ratios',
    restRad,
    swingRad,
  }
}

function restAngle(curves: readonly DropCurve[], board: Board): number {
  const seen = curves.flatMap(({ restRad }) => (restRad === null ? [] : [restRad]))
  return seen.length > 0 ? median(seen) : restFromSizes(board)
}

/** An end lands on its lower edge: (half length) sin - (thickness - axis depth) cos = height of the axis. */
function restFromSizes({
  lengthM,
  pivotHeightM,
  thicknessM = USUAL_M.thicknessM,
  axisBelowTopM = USUAL_M.axisBelowTopM,
}: Board): number {
  const half = lengthM / 2
  const under = thicknessM - axisBelowTopM
  return -(Math.asin((pivotHeightM - axisBelowTopM) / Math.hypot(half, under)) - Math.atan2(under, half))
}

function swingAngle(curves: readonly DropCurve[], restRad: number): number {
  const seen = curves.flatMap(({ groundRad, restRad: own }) =>
    groundRad === null || own === null ? [] : [groundRad - own],
  )
  // Nobody saw it land: on level ground it comes down as steep as it rested.
  return seen.length > 0 ? median(seen) : -2 * restRad
}

/** A start for the search: turning from rest, the turn grows about as the square of the time. */
function firstGuess(
  swings: readonly FreeSwing[],
  still: readonly DropCurve[],
  usualKgM2: number,
  lengthM: number,
): Float64Array {
  const fromPivotM = (atM: number) => atM - lengthM / 2
  const motions = swings.map(quickMotion)
  // A board that falls faster than a usual one could is lighter: begun at the wall of no bias, the search stays there.
  const lightest = swings.map((swing, k) => {
    if (swing.towards === -1) return Infinity
    const d = fromPivotM(swing.massAtM)
    const mostNm = (1 - START.leastHeld) * swing.massKg * GRAVITY_MPS2 * d
    return mostNm / motions[k]!.accelerationRadps2 - swing.massKg * d * d
  })
  const inertiaKgM2 = Math.max(Math.min(usualKgM2, ...lightest), START.leastInertiaKgM2)
  const overcome = swings.flatMap((swing, k) => {
    if (swing.towards === -1) return []
    const d = fromPivotM(swing.massAtM)
    const net = motions[k]!.accelerationRadps2 * (inertiaKgM2 + swing.massKg * d * d)
    return [swing.massKg * GRAVITY_MPS2 * d - net]
  })
  const held = still.map(({ massKg, massAtM }) => massKg * GRAVITY_MPS2 * fromPivotM(massAtM) + 1)
  const holding = Math.max(overcome.length > 0 ? Math.min(...overcome) : START.holdingNm, ...held, 1)
  return Float64Array.of(
    inertiaKgM2,
    holding,
    Math.min(START.coulombNm, holding / START.coulombShare),
    START.viscousNms,
    START.overAxisM,
    ...motions.map((m) => m.beginS),
  )
}

function quickMotion({ timesS, anglesRad, restRad, towards, frameS }: FreeSwing): {
  readonly beginS: number
  readonly accelerationRadps2: number
} {
  const turns = anglesRad.map((angle) => towards * (angle - restRad))
  const far = turns[turns.length - 1]!
  const passes = (turn: number) => {
    const k = turns.findIndex((value, n) => value > turn && (turns[n + 1] ?? Infinity) > turn)
    return k < 0 ? timesS[timesS.length - 1]! : timesS[k]!
  }
  const [few, many] = [TIMED_BETWEEN[0] * far, TIMED_BETWEEN[1] * far]
  const betweenS = Math.max(passes(many) - passes(few), frameS)
  const root = (Math.sqrt(2 * many) - Math.sqrt(2 * few)) / betweenS
  return { beginS: passes(few) - Math.sqrt(2 * few) / root, accelerationRadps2: root * root }
}

/** The same frames, weighed by how they scatter about a fit. */
function reweighed({ swing }: Weighed, misfitRad: Float64Array): Weighed {
  const middle = Math.max(median(misfitRad.map(Math.abs)) / MAD_OF_NORMAL, LEAST_NOISE_RAD)
  const keep = Uint8Array.from(misfitRad, (misfit) => (Math.abs(misfit) < WILD * middle ? 1 : 0))
  const kept = misfitRad.filter((_, k) => keep[k] === 1)
  const freedom = Math.max(kept.length - BENT_BY, kept.length / LEAST_FREE)
  const noise = Math.sqrt(kept.reduce((sum, misfit) => sum + misfit * misfit, 0) / freedom)
  return { swing, keep, noiseRad: Math.max(noise, LEAST_NOISE_RAD) * Math.sqrt(goingOn(kept)) }
}

/** How many times more the mean of such a scatter varies than if each frame were on its own. */
function goingOn(values: Float64Array): number {
  let product = 0
  let square = 0
  for (let k = 0; k < values.length; k++) {
    square += values[k]! ** 2
    if (k > 0) product += values[k]! * values[k - 1]!
  }
  const next = square === 0 ? 0 : product / square
  const byChance = 2 / Math.sqrt(Math.max(values.length, 1))
  const surely = Math.min(Math.max(0, next - byChance / 2), MOST_GOING_ON)
  return next < byChance ? 1 : (1 + surely) / (1 - surely)
}

function sample(problem: BoardProblem, fit: LeastSquaresFit, length: FitLength): Float64Array[] {
  const random = seededRandom(SEED)
  const n = fit.parameters.length
  const log = (at: Float64Array) => problem.logDensity(at)
  const information = fit.information.slice()
  for (let k = 0; k < n; k++) information[k * n + k]! *= 1 + RAISED
  const factor = choleskyFactor(information, n)
  const count = WALKERS.each * (n + WALKERS.beside)
  const best = log(fit.parameters)
  const walkers: Float64Array[] = []
  // A walker that starts far out in a bend of the ridge may never find back: each starts where it is not too unlikely.
  for (let spread = 1; walkers.length < count;) {
    const normal = Float64Array.from({ length: n }, () => random.normal())
    const step =
      factor === null
        ? normal.map((z, k) => BLIND_STEP * z * Math.abs(fit.parameters[k]!))
        : solveTransposed(factor, normal, n)
    const at = fit.parameters.map((value, k) => value + spread * step[k]!)
    if (log(at) > best - FAR_OUT - n) {
      walkers.push(at)
      spread = 1
    } else spread *= NEARER
    if (spread < LEAST_SPREAD) throw new Error('fitBoard: no board near the best fit is possible')
  }
  return ensembleSample(log, walkers, { ...length, every: KEPT_EVERY }, random)
}

function middleAndSd(values: readonly number[]): { readonly value: number; readonly sd: number } {
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length
  const variance = values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / values.length
  return { value: mean, sd: Math.sqrt(variance) }
}

import type { Board } from '../board/board.ts'
import { type Random, seededRandom } from '../numeric/random.ts'
import { median } from '../numeric/robust.ts'
import type { BoardDraw, BoardFit } from './board-fit.ts'
import { BIAS_NM, boardPrior, COULOMB_SD_NM, OVER_AXIS_M, VISCOUS_SD_NMS } from './board-prior.ts'
import { GRAVITY_MPS2, type BoardLaw } from './seesaw-law.ts'
import { STEP_S, type WeighedRide } from './weighed-ride.ts'

/** The tip begins when the exit end has sunk by this, m: the definition of the event. */
const TIP_M = 0.01

/**
 * What is not known of how a dog loads a plank, the same in all its rides (ours; from the mechanics of a point mass on
 * legs): a dog that brakes stands on its forelegs, so that it presses further ahead than its centre is (0.35 m of height
 * at 3 m/s² are 0.1 m); its mass and its stride; how much of it goes down with the plank and how much its legs take up.
 */
const PRESSES_AHEAD_M = { middle: 0.06, sd: 0.08 } as const
const LOAD_LOG_SD = 0.04
const GOES_ALONG = { least: 0.75, most: 1 } as const
/** How far a single fall may be off the one that is worked out, 1 sd of its logarithm: stride, body's place, speed (an estimate). */
const FALL_LOG_SD = 0.09
/** Ways in which a dog may load the plank that are tried (ours). */
const WAYS = 12
/** Boards that are tried, and how many are told of afterwards (ours). */
const TRIED = 700
/** Boards from before any ride, where no drop tells more (ours). */
const PRIOR_DRAWS = 800
/** Rides that even the best board explains no better than this, mean of z² / 2, contradict the drops (ours). */
const CONTRADICTS = 2
/** A board that takes longer under a dog does not fall, s (ours); a step of the solution, s. */
const LONGEST_S = 6
const INTEGRATION_S = 0.01
/** The last place from which there is a next one, in steps from the end, with room for rounding. */
const LAST_STEP = 1.001

/**
 * What rides of weighed dogs add to what drops tell of a board: boards under which the rides would have been unlikely
 * count for less. Rides alone, without any drop, tell a board roughly.
 *
 * @param fit what the drops tell; without any draw, boards as they are beforehand are taken
 * @param rides of this board; @param board its sizes, m
 * @returns the same fit where there are no rides, or where they contradict the drops
 */
export function withRides(fit: BoardFit, rides: readonly WeighedRide[], board: Board): BoardFit {
  if (rides.length === 0) return fit
  const random = seededRandom(rides.length)
  const draws = fit.draws.length > 0 ? thinned(fit.draws) : beforehand(board, random)
  const dogs = [...new Set(rides.map(({ dogId }) => dogId))].map((dogId) => ({
    rides: rides.filter((ride) => ride.dogId === dogId),
    ways: Array.from({ length: WAYS }, () => wayOfLoading(random)),
  }))
  const logs = draws.map(({ law }) =>
    dogs.reduce((sum, dog) => sum + logMeanOf(dog.ways.map((way) => logLikelihood(law, dog.rides, way, board))), 0),
  )
  const best = Math.max(...logs)
  if (!(best > -CONTRADICTS * rides.length)) return fit
  const told = resampled(
    draws,
    logs.map((log) => Math.exp(log - best)),
    random,
  )
  if (fit.settled !== 'nothing') return { ...fit, draws: told }
  const restRad = fit.draws.length > 0 ? fit.restRad : median(rides.map((ride) => ride.restRad))
  const groundRad = median(rides.map((ride) => ride.groundRad))
  return { ...fit, draws: told, settled: 'ratios', restRad, swingRad: groundRad - restRad }
}

interface WayOfLoading {
  readonly aheadM: number
  readonly load: number
  readonly goesAlong: number
}

function wayOfLoading(random: Random): WayOfLoading {
  return {
    aheadM: PRESSES_AHEAD_M.middle + PRESSES_AHEAD_M.sd * random.normal(),
    load: Math.exp(LOAD_LOG_SD * random.normal()),
    goesAlong: GOES_ALONG.least + (GOES_ALONG.most - GOES_ALONG.least) * random.uniform(),
  }
}

function logLikelihood(law: BoardLaw, rides: readonly WeighedRide[], way: WayOfLoading, board: Board): number {
  let sum = 0
  for (const ride of rides) {
    const fallS = fallUnder(law, ride, way, board.lengthM)
    if (fallS === null) return -Infinity
    sum -= (Math.log(fallS / ride.fallS) / FALL_LOG_SD) ** 2 / 2
  }
  return sum
}

/** From the start of the tip to the landing with the dog's body going as it went, s; null: it would not have come down. */
function fallUnder(law: BoardLaw, ride: WeighedRide, way: WayOfLoading, lengthM: number): number | null {
  const { massKg, restRad, groundRad, bodyFromPivotM } = ride
  let angle = restRad + TIP_M / ((lengthM / 2) * Math.cos(restRad))
  let rate = ride.tipRateRadps
  for (let sinceS = 0; sinceS < LONGEST_S; sinceS += INTEGRATION_S) {
    const place = Math.min(sinceS / STEP_S, bodyFromPivotM.length - LAST_STEP)
    const k = Math.max(0, Math.floor(place))
    const [here = 0, next = here] = [bodyFromPivotM[k], bodyFromPivotM[k + 1]]
    const bodyM = here + (place - k) * (next - here)
    const speedMps = place + LAST_STEP >= bodyFromPivotM.length ? 0 : (next - here) / STEP_S
    const pressM = Math.min(lengthM / 2, bodyM + way.aheadM)
    const alongKg = way.goesAlong * massKg
    // A mass that moves along a turning plank: m x² resists, and 2 m x v holds back (Coriolis).
    const torque =
      (massKg * GRAVITY_MPS2 * way.load * pressM - law.biasTorqueNm) * Math.cos(angle) -
      law.coulombNm -
      (law.viscousNms + 2 * alongKg * bodyM * speedMps) * rate
    rate += (INTEGRATION_S * torque) / (law.inertiaKgM2 + alongKg * bodyM * bodyM)
    if (rate < 0) rate = 0
    angle += INTEGRATION_S * rate
    if (angle >= groundRad) return sinceS + INTEGRATION_S
  }
  return null
}

function logMeanOf(logs: readonly number[]): number {
  const best = Math.max(...logs)
  if (best === -Infinity) return best
  return best + Math.log(logs.reduce((sum, log) => sum + Math.exp(log - best), 0) / logs.length)
}

function thinned(draws: readonly BoardDraw[]): readonly BoardDraw[] {
  const every = Math.max(1, Math.floor(draws.length / TRIED))
  return draws.filter((_, k) => k % every === 0)
}

/** Boards as they may be before anybody tried this one. */
function beforehand(board: Board, random: Random): BoardDraw[] {
  const prior = boardPrior(board, null)
  const draws: BoardDraw[] = []
  while (draws.length < PRIOR_DRAWS) {
    const law = {
      inertiaKgM2: prior.inertiaKgM2 * Math.exp(prior.logInertiaSd * random.normal()),
      biasTorqueNm: BIAS_NM.middle + BIAS_NM.sd * random.normal(),
      coulombNm: Math.abs(COULOMB_SD_NM * random.normal()),
      viscousNms: Math.abs(VISCOUS_SD_NMS * random.normal()),
    }
    const overAxisM = OVER_AXIS_M.middle + OVER_AXIS_M.sd * random.normal()
    if (law.biasTorqueNm > 0) draws.push({ law, overAxisM })
  }
  return draws
}

/** As many draws, each as often as its weight asks for: systematic resampling. */
function resampled(draws: readonly BoardDraw[], weights: readonly number[], random: Random): BoardDraw[] {
  const step = weights.reduce((sum, weight) => sum + weight, 0) / draws.length
  let left = random.uniform() * step
  const told: BoardDraw[] = []
  for (const [k, draw] of draws.entries()) {
    for (left -= weights[k]!; left < 0; left += step) told.push(draw)
  }
  return told
}

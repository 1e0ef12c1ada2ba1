import { betaDraw, gammaDraw } from '../numeric/gamma.ts'
import { choleskyFactor, solveTransposed, solveWithFactor } from '../numeric/matrix.ts'
import { normalCdf, normalDensity } from '../numeric/normal.ts'
import type { Random } from '../numeric/random.ts'
import { truncatedNormalDraw } from '../numeric/truncated-normal.ts'
import type { ShowMargins } from './show-margins.ts'

/**
 * One dog as the rides allow it to be, on the board that is asked for. The margin of a ride is normal about a level
 * that depends on the board's fall, the board, the day and show or training; now and then the dog pops, whatever the
 * board does.
 */
export interface PossibleDog {
  /** Mean margin on that board at a show, s, and its scatter from ride to ride, days included. */
  readonly marginS: number
  readonly scatterS: number
  /** How the margin changes with the fall, s for s: 0 = waits, -1 = counts. */
  readonly perFall: number
  readonly popShare: number
  readonly popMarginS: number
}

/** Beforehand: change of the margin with the fall, s/s; level, s; show against training, s; drift, s a month. */
const PER_FALL = { mean: -0.5, sd: 0.6 }
const LEVEL = { mean: 0.2, sd: 1 }
const SHOW_SD = 0.05
const DRIFT_SD = 0.3
/** Pops beforehand: rare, and about an eighth of a second before the landing, s. Ours; no source. */
const POP_SHARE = { yes: 0.3, no: 14 }
const POP_MARGIN = { mean: -0.15, sd: 0.1, scatter: 0.09 }
/** Sizes that the parts of boards and days may have, s, with the scales of their half-Cauchy. */
const BOARD_SDS = [0.002, 0.008, 0.015, 0.025, 0.04, 0.06, 0.09]
const BOARD_SCALE_S = 0.012
const DAY_SDS = [0.003, 0.015, 0.03, 0.045, 0.065, 0.09, 0.13, 0.2]
const DAY_SCALE_S = 0.05
const WARM_UP = 500
const DRAWS = 2500
const LEAST_SD_S = 0.002

/**
 * Draws dogs that go with the rides, by Gibbs sampling (Gelfand and Smith, JASA 1990, 85:398).
 *
 * @param margins of the rides, seen from the board that is asked for
 * @param drifts whether the level may drift over the season; it is then told as of the last ride
 * @param random where chance comes from
 * @returns a few thousand possible dogs
 */
export function possibleDogs(margins: ShowMargins, drifts: boolean, random: Random): PossibleDog[] {
  const { rides, boardCount, dayCount } = margins
  const shows = rides.filter(({ isShow }) => isShow).length
  const bothKinds = Math.min(shows, rides.length - shows) >= 3
  const fixed = 4
  const p = fixed + boardCount
  // Level as at a show, fall, training (when both kinds were seen), drift, boards.
  const rows = rides.map((ride) => [
    1,
    ride.fallAheadS,
    bothKinds && !ride.isShow ? 1 : 0,
    drifts ? ride.months : 0,
    ...Array.from({ length: boardCount }, (_, b) => (b === ride.board ? 1 : 0)),
  ])
  const priorMean = [LEVEL.mean, PER_FALL.mean, 0, 0]
  const priorSd = [LEVEL.sd, PER_FALL.sd, SHOW_SD, DRIFT_SD]
  const known = rides.flatMap(({ marginS }) => marginS ?? [])
  const start = known.length === 0 ? LEVEL.mean : known.reduce((sum, m) => sum + m, 0) / known.length
  let coefficients = Float64Array.from({ length: p }, (_, k) => (k === 0 ? start : 0)) as Float64Array
  let scatter = 0.12
  let boardSd = BOARD_SCALE_S
  let daySd = DAY_SCALE_S
  let popShare = 0.03
  let popMargin = POP_MARGIN.mean
  const days = new Float64Array(dayCount)
  const isPop = rides.map(() => false)
  const margin = rides.map(({ marginS }) => marginS ?? start)
  const dogs: PossibleDog[] = []
  for (let round = 0; round < WARM_UP + DRAWS; round++) {
    // Which rides are pops, and what each margin truly was.
    rides.forEach((ride, i) => {
      const usual = rows[i]!.reduce((sum, x, k) => sum + x * coefficients[k]!, 0) + days[ride.day]!
      const asUsual = (1 - popShare) * likelihood(ride, usual, scatter)
      const asPop = popShare * likelihood(ride, popMargin, POP_MARGIN.scatter)
      isPop[i] = random.uniform() * (asUsual + asPop) < asPop
      margin[i] = isPop[i]
        ? drawMargin(random, ride, popMargin, POP_MARGIN.scatter)
        : drawMargin(random, ride, usual, scatter)
    })
    // The level, what fall, show, drift and boards do to it.
    const precision = new Float64Array(p * p)
    const right = new Float64Array(p)
    for (let k = 0; k < p; k++) {
      const weight = 1 / (k < fixed ? priorSd[k]! : boardSd) ** 2
      precision[k * p + k] = weight
      right[k] = weight * (priorMean[k] ?? 0)
    }
    const weight = 1 / scatter ** 2
    rides.forEach((ride, i) => {
      if (isPop[i]) return
      const row = rows[i]!
      for (let a = 0; a < p; a++) {
        if (row[a] === 0) continue
        right[a]! += weight * row[a]! * (margin[i]! - days[ride.day]!)
        for (let b = 0; b <= a; b++) precision[a * p + b]! += weight * row[a]! * row[b]!
      }
    })
    const factor = choleskyFactor(precision, p)!
    const mean = solveWithFactor(factor, right, p)
    const away = solveTransposed(
      factor,
      Float64Array.from({ length: p }, () => random.normal()),
      p,
    )
    coefficients = mean.map((value, k) => value + away[k]!)
    // What each day did.
    const pull = new Float64Array(dayCount)
    const counts = new Float64Array(dayCount)
    const rest = rides.map((_, i) => margin[i]! - rows[i]!.reduce((sum, x, k) => sum + x * coefficients[k]!, 0))
    rides.forEach((ride, i) => {
      if (isPop[i]) return
      pull[ride.day]! += rest[i]!
      counts[ride.day]! += 1
    })
    for (let d = 0; d < dayCount; d++) {
      const total = counts[d]! * weight + 1 / daySd ** 2
      days[d] = (pull[d]! * weight) / total + random.normal() / Math.sqrt(total)
    }
    // How large the scatters are.
    let sum = 0.03 ** 2
    let count = 1
    rides.forEach((ride, i) => {
      if (isPop[i]) return
      sum += (rest[i]! - days[ride.day]!) ** 2
      count++
    })
    scatter = Math.max(Math.sqrt(sum / 2 / gammaDraw(random, count / 2)), LEAST_SD_S)
    daySd = drawSize(random, DAY_SDS, days, (sd) => -Math.log1p((sd / DAY_SCALE_S) ** 2))
    boardSd = drawSize(random, BOARD_SDS, coefficients.subarray(fixed), (sd) => -Math.log1p((sd / BOARD_SCALE_S) ** 2))
    // Pops: how often, and when.
    const pops = margin.filter((_, i) => isPop[i])
    popShare = betaDraw(random, POP_SHARE.yes + pops.length, POP_SHARE.no + rides.length - pops.length)
    const popWeight = pops.length / POP_MARGIN.scatter ** 2 + 1 / POP_MARGIN.sd ** 2
    const popPull =
      pops.reduce((total, m) => total + m, 0) / POP_MARGIN.scatter ** 2 + POP_MARGIN.mean / POP_MARGIN.sd ** 2
    popMargin = popPull / popWeight + random.normal() / Math.sqrt(popWeight)
    if (round < WARM_UP) continue
    const board = margins.board === null ? random.normal() * boardSd : coefficients[fixed + margins.board]!
    // One board at one show: what is not known of its fall is the same in all rides there.
    const fallOff = margins.askedFallSdS === 0 ? 0 : random.normal() * margins.askedFallSdS
    dogs.push({
      marginS: coefficients[0]! + board + coefficients[1]! * fallOff,
      scatterS: Math.hypot(scatter, daySd, coefficients[1]! * margins.fallScatterS),
      perFall: coefficients[1]!,
      popShare,
      popMarginS: popMargin,
    })
  }
  return dogs
}

/**
 * How likely a dog leaves before the landing.
 *
 * @param dog as it may be
 * @returns 0 to 1
 */
export function earlyChance(dog: PossibleDog): number {
  const usual = normalCdf(-dog.marginS / dog.scatterS)
  return (1 - dog.popShare) * usual + dog.popShare * normalCdf(-dog.popMarginS / POP_MARGIN.scatter)
}

type Ride = ShowMargins['rides'][number]

function likelihood({ marginS, sd, between }: Ride, mean: number, scatter: number): number {
  if (marginS === null)
    return normalCdf((between[1] - mean) / scatter) - normalCdf((between[0] - mean) / scatter) + 1e-12
  const total = Math.hypot(scatter, sd)
  return normalDensity((marginS - mean) / total) / total + 1e-12
}

function drawMargin(random: Random, { marginS, sd, between }: Ride, mean: number, scatter: number): number {
  if (marginS === null) return truncatedNormalDraw(random, mean, scatter, between[0], between[1])
  if (sd < LEAST_SD_S) return marginS
  const precision = 1 / scatter ** 2 + 1 / sd ** 2
  return (mean / scatter ** 2 + marginS / sd ** 2) / precision + random.normal() / Math.sqrt(precision)
}

/** One of several sizes of the scatter about 0 of `effects`. */
function drawSize(
  random: Random,
  sizes: readonly number[],
  effects: Float64Array,
  logPrior: (sd: number) => number,
): number {
  let squares = 0
  for (const effect of effects) squares += effect * effect
  const logs = sizes.map((sd, k) => {
    const width = (sizes[Math.min(k + 1, sizes.length - 1)]! - sizes[Math.max(k - 1, 0)]!) / 2
    return logPrior(sd) + Math.log(width) - effects.length * Math.log(sd) - squares / (2 * sd * sd)
  })
  const best = Math.max(...logs)
  const weights = logs.map((log) => Math.exp(log - best))
  let left = random.uniform() * weights.reduce((sum, weight) => sum + weight, 0)
  for (const [k, weight] of weights.entries()) {
    left -= weight
    if (left < 0) return sizes[k]!
  }
  return sizes[sizes.length - 1]!
}

import { withheld, type Estimate } from '../estimate.ts'
import { mixtureEstimate, type NormalPart } from '../numeric/mixture.ts'
import { median, robustSd } from '../numeric/robust.ts'
import { seededRandom } from '../numeric/random.ts'
import { fallsAndLeavings, type FallAndLeaving } from './fall-and-leaving.ts'
import { fitCensored } from './impute.ts'
import { contrastOf, type SeasonFit } from './season-fit.ts'
import { DAYS_PER_MONTH, type SeasonRide } from './season.ts'
import { tameOutliers } from './tame-outliers.ts'

/** Does the dog leave when the board has landed, or after a time of its own? */
export interface WaitsOrCounts {
  /** How many seconds later the dog leaves when the board lands a second later: 1 = waits for it, 0 = counts. */
  readonly slope: Estimate
  readonly verdict: 'waits' | 'counts' | 'between' | 'too-few'
  /** Places in the dog's list. */
  readonly restsOn: readonly number[]
}

const FEWEST_RIDES = 8
/** Falls that differ by less than this, s (robust sd over the rides), cannot tell waiting from counting. */
const LEAST_SPREAD_S = 0.025
/** How far one board's level may differ from another's for other reasons (surface, noise), s, and the scale of its half-Cauchy. */
const BOARD_SDS = [0.002, 0.008, 0.015, 0.025, 0.04, 0.06, 0.09]
const BOARD_SCALE_S = 0.012
/** A season's drift of the leaving time, s a month, that is expected beforehand. */
const DRIFT_SD = 0.05

/**
 * Whether a dog waits or counts: the slope of leaving on landing, both from the start of the tip, over boards that fall
 * at different speeds. Errors in both; scatter of days and rides; boards may differ a little for other reasons.
 *
 * @param rides of one dog
 * @returns `too-few` where falls hardly differ, rides are few, or the interval leaves both open
 */
export function waitsOrCounts(rides: readonly SeasonRide[]): WaitsOrCounts {
  const { rides: known, boards } = fallsAndLeavings(rides)
  const dated = known.filter(({ ride }) => ride.day !== null)
  const restsOn = dated.map(({ ride }) => ride.index)
  const tooFew = (detail: string): WaitsOrCounts => ({
    slope: withheld('too-few', detail),
    verdict: 'too-few',
    restsOn,
  })
  if (dated.filter(({ isBound }) => !isBound).length < FEWEST_RIDES) {
    return tooFew(`${dated.length} rides with tip, landing and leaving: too few to tell waiting from counting.`)
  }
  if (spreadOf(dated) < LEAST_SPREAD_S) {
    return tooFew('The boards fall too much alike to tell waiting from counting: ride a faster or a slower one too.')
  }
  const slope = slopeOf(dated, boards.length)
  if (slope === null) return tooFew('The rides do not tell waiting from counting.')
  const estimate = mixtureEstimate(slope)
  return { slope: estimate, verdict: verdictOf(estimate.ci95), restsOn }
}

/** Spread of the falls, s; a few odd boards count as well, so it is the larger of a robust and a plain one shrunk. */
function spreadOf(known: readonly FallAndLeaving[]): number {
  const falls = known.map(({ fallS }) => fallS)
  const middle = median(falls)
  const plain = Math.sqrt(falls.reduce((sum, fall) => sum + (fall - middle) ** 2, 0) / falls.length)
  return Math.max(robustSd(falls), plain)
}

/** Slope 1 or so, 0 or so, or clear of both. */
function verdictOf([lo, hi]: readonly [number, number]): WaitsOrCounts['verdict'] {
  if (lo > 0.15 && hi < 0.85) return 'between'
  if (lo > 0.5) return 'waits'
  if (hi < 0.5) return 'counts'
  return 'too-few'
}

function slopeOf(known: readonly FallAndLeaving[], boardCount: number): NormalPart[] | null {
  const middleS = median(known.map(({ fallS }) => fallS))
  const days = known.map(({ ride }) => ride.day!)
  const middleDay = median(days)
  const dayList = [...new Set(days)]
  const dayIndex = days.map((day) => dayList.indexOf(day))
  const rows = known.map(({ fallS, board, ride }) => [
    1,
    fallS - middleS,
    (ride.day! - middleDay) / DAYS_PER_MONTH,
    ...Array.from({ length: boardCount }, (_, b) => (b === board ? 1 : 0)),
  ])
  const isBound = known.map((one) => one.isBound)
  const plainRows = rows.map((row) => row.slice(0, 3))
  const tamed = tameOutliers(
    known.map(({ leftS }) => leftS),
    known.map(({ leftSd }) => leftSd),
    plainRows,
  )
  const y = tamed.map((value, i) => (isBound[i] ? known[i]!.leftS : value))
  const columnCount = 3 + boardCount
  const fitWith = (boardSd: number, slope: number) => {
    // An error of the fall goes into the leaving by the slope.
    const ySd = known.map(({ leftSd, fallSd, together }) => Math.hypot(leftSd, (together - slope) * fallSd))
    const priorSd = [Infinity, Infinity, DRIFT_SD, ...Array.from({ length: boardCount }, () => boardSd)]
    const model = { y, ySd, rows, columnCount, dayIndex, isBound, priorSd }
    return fitCensored(model, seededRandom(known.length))?.fit ?? null
  }
  const first = fitWith(BOARD_SCALE_S, 0.5)
  if (first === null) return null
  const slope = mixtureEstimate(contrastOf(first, [0, 1])).value
  const fits = BOARD_SDS.flatMap((boardSd, k): { fit: SeasonFit; logWeight: number }[] => {
    const fit = fitWith(boardSd, slope)
    const logPrior = Math.log(boardWidth(k)) - Math.log1p((boardSd / BOARD_SCALE_S) ** 2)
    return fit === null ? [] : [{ fit, logWeight: fit.logEvidence + logPrior }]
  })
  if (fits.length === 0) return null
  const best = Math.max(...fits.map(({ logWeight }) => logWeight))
  const total = fits.reduce((sum, { logWeight }) => sum + Math.exp(logWeight - best), 0)
  return fits.flatMap(({ fit, logWeight }) => {
    const share = Math.exp(logWeight - best) / total
    return contrastOf(fit, [0, 1]).map((part) => ({ ...part, weight: part.weight * share }))
  })
}

/** The stretch of sizes that one of them stands for. */
function boardWidth(k: number): number {
  return (BOARD_SDS[Math.min(k + 1, BOARD_SDS.length - 1)]! - BOARD_SDS[Math.max(k - 1, 0)]!) / 2
}

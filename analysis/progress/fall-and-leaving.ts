import { isMeasured } from '../words/in-words.ts'
import { boardsOf, measuredRides, type SeasonRide } from './season.ts'

/** When the board landed and when the dog left, both from the start of the tip, of one ride. */
export interface FallAndLeaving {
  readonly ride: SeasonRide
  /** Board, counted from 0. */
  readonly board: number
  /** The board's fall, s, as far as it can be told free of error: pulled towards its board's usual fall. */
  readonly fallS: number
  /** What the fall leaves open, s. */
  readonly fallSd: number
  /** Tip to leaving, s; a bound where the clip ends too early. */
  readonly leftS: number
  readonly leftSd: number
  readonly isBound: boolean
  /** How far an error of the fall goes along with one of the leaving (both count from the tip): covariance over variance. */
  readonly together: number
}

/** The boards and rides on which fall and leaving are known. */
export interface FallsAndLeavings {
  readonly boards: readonly string[]
  readonly usualFallS: readonly number[]
  /** Scatter of one board's falls, s. */
  readonly fallScatterS: number
  readonly rides: readonly FallAndLeaving[]
}

interface Raw {
  readonly ride: SeasonRide
  readonly board: string
  /** null where the board never landed. */
  readonly fall: { readonly value: number; readonly sd: number } | null
  readonly left: { readonly value: number; readonly sd: number; readonly isBound: boolean }
  readonly covariance: number
}

/**
 * Takes falls and leavings out of rides, with the errors of both: a measured fall is pulled towards its board's usual
 * one by how much of its scatter is error (the regression calibration of Fuller, Measurement Error Models, 1987).
 *
 * @param rides of one dog; those by hand and those on unknown boards are left out
 * @returns boards in the order of their use
 */
export function fallsAndLeavings(rides: readonly SeasonRide[]): FallsAndLeavings {
  const raw = measuredRides(rides).flatMap(rawOf)
  const boards = boardsOf(raw.map(({ ride }) => ride))
  const ofBoard = boards.map((name) =>
    raw.flatMap(({ board, fall }) => (board === name && fall !== null ? [fall] : [])),
  )
  const usual = ofBoard.map((falls) => weightedMean(falls))
  const scatterS = scatterWithin(ofBoard, usual)
  const known = raw.flatMap((one): FallAndLeaving[] => {
    const board = boards.indexOf(one.board)
    const usualS = usual[board]!
    if (!Number.isFinite(usualS)) return []
    const common = { ride: one.ride, board, leftS: one.left.value, leftSd: one.left.sd, isBound: one.left.isBound }
    if (one.fall === null) return [{ ...common, fallS: usualS, fallSd: scatterS, together: 0 }]
    const errorVariance = one.fall.sd ** 2
    const alone = ofBoard[board]!.length < 2
    const trust = alone || errorVariance === 0 ? 1 : scatterS ** 2 / (scatterS ** 2 + errorVariance)
    const together = errorVariance === 0 ? 0 : one.covariance / errorVariance
    return [
      {
        ...common,
        fallS: usualS + trust * (one.fall.value - usualS),
        fallSd: Math.sqrt(trust * errorVariance),
        // The error that the fall seems to have made, the leaving has made in part too.
        leftS: one.left.value - together * (1 - trust) * (one.fall.value - usualS),
        leftSd: Math.sqrt(Math.max(0, one.left.sd ** 2 - together * one.covariance)),
        together,
      },
    ]
  })
  return { boards, usualFallS: usual, fallScatterS: scatterS, rides: known }
}

function rawOf(ride: SeasonRide): Raw[] {
  const { tipStart, grounded, left } = ride.events
  const { dropTimeS, leavingMarginS } = ride.measures
  if (ride.board === null) return []
  const common = { ride, board: ride.board }
  if (tipStart !== undefined && isMeasured(tipStart) && left !== undefined && isMeasured(left)) {
    const leaving = { value: left.value - tipStart.value, sd: Math.hypot(left.sd, tipStart.sd), isBound: false }
    if (grounded !== undefined && isMeasured(grounded)) {
      const fall = { value: grounded.value - tipStart.value, sd: Math.hypot(grounded.sd, tipStart.sd) }
      return [{ ...common, fall, left: leaving, covariance: tipStart.sd ** 2 }]
    }
    if (ride.leaving === 'before-ground') return [{ ...common, fall: null, left: leaving, covariance: 0 }]
  }
  if (dropTimeS === undefined || !isMeasured(dropTimeS) || leavingMarginS === undefined) return []
  if (leavingMarginS.kind === 'withheld') return []
  const isBound = leavingMarginS.kind === 'atLeast'
  // Fall and margin share the landing, whose share in their errors is not told: taken as half of the smaller variance.
  const marginVariance = isBound ? 0 : (leavingMarginS as { sd: number }).sd ** 2
  const landing = Math.min(dropTimeS.sd ** 2, marginVariance) / 2
  const variance = Math.max(0, dropTimeS.sd ** 2 + marginVariance - 2 * landing)
  const fall = { value: dropTimeS.value, sd: dropTimeS.sd }
  const leaving = { value: dropTimeS.value + leavingMarginS.value, sd: Math.sqrt(variance), isBound }
  return [{ ...common, fall, left: leaving, covariance: dropTimeS.sd ** 2 - landing }]
}

/** NaN for no values: nobody is told, such boards are left out. */
function weightedMean(values: readonly { readonly value: number; readonly sd: number }[]): number {
  if (values.length === 0) return NaN
  // Boards scatter too, so a very sure fall counts little more than others.
  const weights = values.map(({ sd }) => 1 / (0.02 ** 2 + sd ** 2))
  const total = weights.reduce((sum, weight) => sum + weight, 0)
  return values.reduce((sum, { value }, k) => sum + (weights[k]! * value) / total, 0)
}

/** Scatter of the falls of one board that is not error of measurement, pooled over boards. */
function scatterWithin(
  ofBoard: readonly (readonly { value: number; sd: number }[])[],
  usual: readonly number[],
): number {
  let sum = 0
  let freedom = 0
  ofBoard.forEach((falls, b) => {
    if (falls.length < 2) return
    freedom += falls.length - 1
    for (const { value, sd } of falls) sum += (value - usual[b]!) ** 2 - sd ** 2 * (1 - 1 / falls.length)
  })
  return freedom === 0 ? 0 : Math.sqrt(Math.max(0, sum / freedom))
}

import type { Random } from '../numeric/random.ts'
import { truncatedNormalDraw } from '../numeric/truncated-normal.ts'
import { drawSeason, fitSeason, type SeasonFit, type SeasonModel } from './season-fit.ts'

/** Rounds of filling in that are thrown away first, and those that count. */
const WARM_UP = 4
const ROUNDS = 16

/** A season's model in which some values are only known from below. */
export interface CensoredModel extends SeasonModel {
  readonly y: readonly number[]
  readonly isBound: readonly boolean[]
}

/**
 * Fits a season in which some values are only known from below ("still on after 1.2 s"): what they may be is drawn
 * from the fit, the fit is made anew, and so on (data augmentation, Tanner and Wong, JASA 1987, 82:528).
 *
 * @param model a bound stands in `y`, marked in `isBound`
 * @param random where chance comes from
 * @returns the fits of all rounds as one, and the mean of what each bound may be; null where there is no fit
 */
export function fitCensored(model: CensoredModel, random: Random): { fit: SeasonFit; filled: number[] } | null {
  if (!model.isBound.includes(true)) {
    const fit = fitSeason(model)
    return fit === null ? null : { fit, filled: [...model.y] }
  }
  let y = [...model.y]
  const sums = y.map(() => 0)
  const parts: SeasonFit['parts'][number][] = []
  let logEvidence = 0
  for (let round = 0; round < WARM_UP + ROUNDS; round++) {
    const fit = fitSeason({ ...model, y })
    if (fit === null) return null
    if (round >= WARM_UP) {
      parts.push(...fit.parts.map((part) => ({ ...part, weight: part.weight / ROUNDS })))
      logEvidence += fit.logEvidence / ROUNDS
      y.forEach((value, i) => (sums[i]! += value / ROUNDS))
    }
    y = filledIn(model, y, fit, random)
  }
  return { fit: { columnCount: model.columnCount, parts, logEvidence }, filled: sums }
}

function filledIn(model: CensoredModel, y: readonly number[], fit: SeasonFit, random: Random): number[] {
  const { coefficients, rideSd, daySd } = drawSeason(fit, random)
  const expected = model.rows.map((row) => coefficients.reduce((sum, c, k) => sum + c * row[k]!, 0))
  const dayShift = drawDays(model, y, expected, rideSd, daySd, random)
  return y.map((value, i) => {
    if (!model.isBound[i]) return value
    const mean = expected[i]! + dayShift[model.dayIndex[i]!]!
    return truncatedNormalDraw(random, mean, Math.hypot(rideSd, model.ySd[i]!), model.y[i]!, Infinity)
  })
}

/** What each day may have done, given everything else. */
function drawDays(
  model: SeasonModel,
  y: readonly number[],
  expected: readonly number[],
  rideSd: number,
  daySd: number,
  random: Random,
): number[] {
  const precision: number[] = []
  const pull: number[] = []
  y.forEach((value, i) => {
    const day = model.dayIndex[i]!
    const weight = 1 / (rideSd ** 2 + model.ySd[i]! ** 2)
    precision[day] = (precision[day] ?? 0) + weight
    pull[day] = (pull[day] ?? 0) + weight * (value - expected[i]!)
  })
  return precision.map((sum, day) => {
    if (daySd === 0) return 0
    const total = sum + 1 / daySd ** 2
    return pull[day]! / total + random.normal() / Math.sqrt(total)
  })
}

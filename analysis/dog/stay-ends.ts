import { stepAt, type PawOdds } from './paw-odds.ts'
import { STEP_S } from './paw-picture.ts'

/** An instant and its error, 1 sd, s. */
export interface Moment {
  readonly atS: number
  readonly sdS: number
}

/** So far on both sides of a touch the network is asked whether the dog is on the plank, s. */
const AROUND_S = 0.5
/** However sure the network is, it knows the end of a stay no better than this, s (clips of animals left out). */
const LEAST_SD_S = 0.015

/**
 * When a stay on the plank begins or ends, as the network's odds of being on it tell: the odds are the chance that it
 * has begun, or not ended, and the instant is their median.
 *
 * @param odds of the stretch
 * @param touchS the first or last touch that was seen, s
 * @param end which end of the stay
 * @returns null where the network holds it nowhere near for likelier than not that the dog is on the plank
 */
export function stayEnd(odds: PawOdds, touchS: number, end: 'on' | 'off'): Moment | null {
  const inward = end === 'on' ? 1 : -1
  const outer = Math.round(stepAt(odds, touchS - inward * AROUND_S))
  const inner = Math.round(stepAt(odds, touchS + inward * AROUND_S))
  /** Coming from outside, where the odds first reach a level. */
  const reach = (level: number): number | null => {
    for (let step = outer; inward * (inner - step) >= 0; step += inward) {
      const here = odds.on[step]!
      if (here < level) continue
      const before = step === outer ? 0 : odds.on[step - inward]!
      return odds.fromS + STEP_S * (step - inward * ((here - level) / (here - before)))
    }
    return null
  }
  const middle = reach(0.5)
  if (middle === null) return null
  const width = (low: number, high: number) => Math.abs((reach(high) ?? touchS + inward * AROUND_S) - reach(low)!)
  return { atS: middle, sdS: Math.max(LEAST_SD_S, width(0.16, 0.84) / 2, width(0.025, 0.975) / 4) }
}

/**
 * One end of a stay, told by its outermost touch and by the odds of being on the plank: weighed by their variances,
 * known no better for being told twice, and uncertain by how far they differ. A touch only tells that the dog was on
 * until then, however clear it is: where the odds say that it may have stayed, the end is known no better than they do.
 *
 * @param touch as the outermost touch tells it; @param told as the odds do, which the outcome is never surer than
 * @example together({ atS: 1, sdS: 0.02 }, { atS: 1.1, sdS: 0.02 }) // { atS: 1.05, sdS: 0.054 }
 */
export function together(touch: Moment, told: Moment): Moment {
  const [ofTouch, ofTold] = [1 / touch.sdS ** 2, 1 / told.sdS ** 2]
  const weight = ofTouch + ofTold
  return {
    atS: (ofTouch * touch.atS + ofTold * told.atS) / weight,
    sdS: Math.max(told.sdS, Math.hypot(Math.sqrt(2 / weight), (touch.atS - told.atS) / 2)),
  }
}

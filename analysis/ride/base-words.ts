import { type Estimate, withheld } from '../estimate.ts'

/** Why a base's lift is not told. */
export const NO_LIFT = withheld(
  'not-clear',
  'A base that hops looks like a plank that bends: how high it lifts cannot be told from the picture.',
)

/** A base that has surely shifted by more than this is worth a word, m (ours: less is seen on soft ground anywhere). */
const WORTH_A_WORD_M = 0.003

/**
 * What to do about a base that shifts.
 *
 * @param baseShiftM m
 * @returns one sentence, or none
 */
export function baseNotes(baseShiftM: Estimate | undefined): readonly string[] {
  if (baseShiftM?.kind !== 'measured' || baseShiftM.ci95[0] < WORTH_A_WORD_M) return []
  return [`The base shifted by ${Math.round(1000 * baseShiftM.value)} mm: peg it down or weigh it down.`]
}

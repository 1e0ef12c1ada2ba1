import type { Board } from '../board/board.ts'
import type { Limits, RuleSet, Source } from './rule-sets.ts'

/** A length of a board that rule sets speak of. */
export type BuildPart = 'lengthM' | 'widthM' | 'pivotHeightM' | 'contactM' | 'axisBelowTopM'

/** One length held against a rule set. */
export interface BuildFinding {
  readonly part: BuildPart
  /** m; null when the board's own length is not known. */
  readonly valueM: number | null
  readonly limits: { readonly minM: number | null; readonly maxM: number | null }
  /** `unsure`: nearer to a limit than a tape tells; `no-limit`: the rule set is not known to say anything. */
  readonly outcome: 'inside' | 'outside' | 'unsure' | 'not-known' | 'no-limit'
  /** How far outside, m, signed: negative when it is too short; 0 unless outside or unsure. */
  readonly outsideByM: number
  readonly source: Source
}

/** A length by tape is right to about this, 1 sd, m (an estimate: read to a millimetre or two, laid on a painted board). */
const TAPE_SD_M = 0.002
/** A single figure without a tolerance is taken to allow this, m: builders round to it (an estimate). */
const ROUNDING_M = 0.005

/**
 * Holds a board's lengths against a rule set's.
 *
 * @param board m, as entered
 * @param rules whose figures
 * @param sdM how well the lengths are known, 1 sd, m; by tape if absent
 * @returns each figure that the rule set has, with its source
 */
export function checkBuild(board: Board, { build }: Pick<RuleSet, 'build'>, sdM = TAPE_SD_M): readonly BuildFinding[] {
  const parts: readonly BuildPart[] = ['lengthM', 'widthM', 'pivotHeightM', 'contactM', 'axisBelowTopM']
  return parts.flatMap((part) => {
    const figure = build[part]
    return figure === null ? [] : [finding(part, board[part] ?? null, figure.says, figure.source, sdM)]
  })
}

/**
 * Holds one length against a rule set's, however it was measured.
 *
 * @param part which length
 * @param valueM m
 * @param sdM how well it is known, 1 sd, m
 * @param rules whose figures
 * @returns null where the rule set has no such figure
 */
export function checkLength(
  part: BuildPart,
  valueM: number,
  sdM: number,
  { build }: Pick<RuleSet, 'build'>,
): BuildFinding | null {
  const figure = build[part]
  return figure === null ? null : finding(part, valueM, figure.says, figure.source, sdM)
}

function finding(part: BuildPart, valueM: number | null, says: Limits, source: Source, sdM: number): BuildFinding {
  const limits = { minM: says.minM, maxM: says.maxM }
  const base = { part, valueM, limits, source, outsideByM: 0 }
  if (limits.minM === null && limits.maxM === null) return { ...base, outcome: 'no-limit' }
  if (valueM === null) return { ...base, outcome: 'not-known' }
  const slackM = limits.minM === limits.maxM ? ROUNDING_M : 0
  const under = (limits.minM ?? -Infinity) - slackM - valueM
  const over = valueM - (limits.maxM ?? Infinity) - slackM
  const outside = Math.max(under, over)
  const outsideByM = outside <= 0 ? 0 : Number((under > over ? -under - slackM : over + slackM).toFixed(4))
  if (outside > 1.96 * sdM) return { ...base, outcome: 'outside', outsideByM }
  if (outside > -1.96 * sdM) return { ...base, outcome: 'unsure', outsideByM }
  return { ...base, outcome: 'inside' }
}

import type { Estimate } from '../estimate.ts'
import { isMeasured, quantityInWords } from '../words/in-words.ts'
import type { DisplayUnit } from '../words/units.ts'
import type { Difference } from './compare.ts'
import { MEASURES } from './measure-words.ts'
import type { Rate } from './rates.ts'
import { RATE_WORDS, shiftOf } from './report-words.ts'
import type { SplitGroup } from './split.ts'

const IN_100: DisplayUnit = { perSi: 100, sign: 'in 100', decimals: 0 }

export const COMPARE_CAUTIONS: readonly string[] = [
  'A difference is the second side less the first; the true one lies in its interval about 19 times in 20. Where the interval includes 0, it is too close to call.',
  'Where nothing differs, about one measure in twenty still looks clear by chance.',
]

/** A difference as it is told. */
export interface DifferenceWords {
  /** "+0.12 s"; empty where it is not known. */
  readonly value: string
  /** "0.03 to 0.21 s", or why it is not known. */
  readonly interval: string
  /** "too close to call", "more", "less"; empty where it is not known. */
  readonly verdict: string
}

/**
 * A difference in words.
 *
 * @param difference of a measure or a rate
 * @returns its value, interval and verdict
 */
export function differenceInWords({ what, difference, verdict }: Difference): DifferenceWords {
  if (!isMeasured(difference)) return { value: '', interval: whyNot(difference), verdict: '' }
  const unit = unitOf(what)
  const [lo, hi] = difference.ci95
  const isShownAbove0 = difference.value * unit.perSi >= 0.5 * 10 ** -unit.decimals
  const verdicts = { more: 'more', less: 'less', 'too-close': 'too close to call', 'not-known': '' }
  return {
    value: `${isShownAbove0 ? '+' : ''}${quantityInWords(difference.value, unit)}`,
    interval: `${quantityInWords(lo, { ...unit, sign: '' }).trim()} to ${quantityInWords(hi, unit)}`,
    verdict: verdicts[verdict],
  }
}

/**
 * What is compared, as a row's heading.
 *
 * @param what a measure or a rate
 * @returns "Left early", "Hold before the landing"
 */
export function comparedInWords(what: string): string {
  return isRate(what) ? RATE_WORDS[what] : MEASURES[what]!.name
}

/**
 * One side's own value.
 *
 * @param group a side
 * @param what a measure or a rate
 * @returns "0.42 s (0.31 to 0.53)" or "3 of 12 (9 to 53 in 100)"; why there is none
 */
export function sideInWords({ rates, levels }: SplitGroup, what: string): string {
  if (isRate(what)) {
    const rate = rates.find((one) => one.what === what)
    if (rate === undefined) return 'not known'
    const [lo, hi] = rate.ci95.map((share) => Math.round(100 * share))
    return `${rate.count} of ${rate.of} (${lo} to ${hi} in 100)`
  }
  const level = levels.find(({ measure }) => measure === what)?.level
  if (level === undefined) return 'not measured'
  if (!isMeasured(level)) return whyNot(level)
  const { unit } = MEASURES[what]!
  const shift = shiftOf(what)
  const plain = (value: number) => quantityInWords(value - shift, { ...unit, sign: '' }).trim()
  return `${quantityInWords(level.value - shift, unit)} (${plain(level.ci95[0])} to ${plain(level.ci95[1])})`
}

function unitOf(what: string): DisplayUnit {
  return isRate(what) ? IN_100 : MEASURES[what]!.unit
}

function isRate(what: string): what is Rate['what'] {
  return what in RATE_WORDS
}

function whyNot(estimate: Estimate): string {
  return estimate.kind === 'withheld' ? estimate.detail : ''
}

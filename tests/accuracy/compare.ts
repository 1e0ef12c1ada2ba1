import type { Estimate } from '../../analysis/estimate.ts'

/** A value against its truth. `invented`: a value for something that did not happen. `none`: rightly no value. */
export type Compared =
  | { readonly state: 'withheld' | 'invented' | 'none' }
  | {
      readonly state: 'measured'
      /** Measured minus true, in the value's unit. */
      readonly error: number
      readonly isInside95: boolean
      /** Width of the 95 % interval. */
      readonly width95: number
    }

/**
 * An estimate against the true value.
 *
 * @param truth null when the thing did not happen
 */
export function compare(estimate: Estimate, truth: number | null): Compared {
  const got = estimate.kind === 'measured' ? estimate : null
  if (truth === null) return { state: got === null ? 'none' : 'invented' }
  if (got === null) return { state: 'withheld' }
  const [low, high] = got.ci95
  return {
    state: 'measured',
    error: got.value - truth,
    isInside95: low <= truth && truth <= high,
    width95: high - low,
  }
}

export type VerdictScore = 'right' | 'unsure' | 'wrong'

/** Verdicts that leave the question open. */
const OPEN = new Set(['unsure', 'too-close', 'not-seen'])

export function scoreVerdict(got: string, want: string): VerdictScore {
  return got === want ? 'right' : OPEN.has(got) ? 'unsure' : 'wrong'
}

/** The error that 95 % of a curve's frames stay below, in the curve's unit; null without a common frame. */
export function curveError95(
  got: { readonly ptsS: readonly number[]; readonly values: readonly (number | null)[] },
  truth: { readonly ptsS: readonly number[]; readonly values: readonly number[] },
): number | null {
  const wanted = new Map(truth.ptsS.map((t, i) => [Math.round(1000 * t), truth.values[i]!]))
  const errors = got.ptsS.flatMap((t, k) => {
    const value = got.values[k]
    // Times in files are rounded: a frame is looked for within a millisecond.
    const ms = Math.round(1000 * t)
    const want = wanted.get(ms) ?? wanted.get(ms - 1) ?? wanted.get(ms + 1)
    return value == null || want === undefined ? [] : [Math.abs(value - want)]
  })
  errors.sort((a, b) => a - b)
  return errors[Math.ceil(0.95 * errors.length) - 1] ?? null
}

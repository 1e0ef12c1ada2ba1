/** A time from which no picture can be trusted: from the last sound frame before it to the first sound one after it, s. */
export interface DamagedSpan {
  readonly fromS: number
  readonly toS: number
}

/** What is told where damage hides something. */
export const DAMAGED_HERE = 'Pictures are damaged or missing here: copy the clip from the phone again.'

/** Pictures further apart than this, and than so many usual steps, are a break in the clip, s. */
const BREAK_S = 0.25
const BREAK_STEPS = 5

/**
 * The times that frames which are damaged, or missing, leave open.
 *
 * @param ptsS times of the frames that came, s, rising
 * @param isDamaged 1 for each that cannot be trusted
 * @returns spans in order of time; `damagedSpans([0, 1, 2, 3], [0, 1, 0, 0])` is [{ fromS: 0, toS: 2 }] when the usual
 *   step is 1 s
 */
export function damagedSpans(ptsS: Float64Array, isDamaged: Uint8Array): DamagedSpan[] {
  const steps = Array.from(ptsS.subarray(1), (timeS, i) => timeS - ptsS[i]!).sort((a, b) => a - b)
  const longS = Math.max(BREAK_S, BREAK_STEPS * (steps[steps.length >> 1] ?? 0))
  const spans: { fromS: number; toS: number }[] = []
  const add = (fromS: number, toS: number) => {
    const last = spans[spans.length - 1]
    if (last !== undefined && fromS <= last.toS) last.toS = Math.max(last.toS, toS)
    else spans.push({ fromS, toS })
  }
  for (let i = 0; i < ptsS.length; i++) {
    if (i > 0 && ptsS[i]! - ptsS[i - 1]! > longS) add(ptsS[i - 1]!, ptsS[i]!)
    if (isDamaged[i]) add(ptsS[i - 1] ?? ptsS[i]!, ptsS[i + 1] ?? ptsS[i]!)
  }
  return spans
}

/**
 * True when an instant lies in damage or so close to it that it may belong there.
 *
 * @param atS and @param marginS in s; @param spans in any order, absent for none
 * @example isNearDamage([{ fromS: 1, toS: 2 }], 2.1, 0.2) // true
 */
export function isNearDamage(spans: readonly DamagedSpan[] | undefined, atS: number, marginS: number): boolean {
  return spans?.some(({ fromS, toS }) => atS > fromS - marginS && atS < toS + marginS) ?? false
}

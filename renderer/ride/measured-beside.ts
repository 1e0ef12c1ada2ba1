import { type Answer, answerText } from '../../analysis/words/answers.ts'

export interface MeasuredBeside {
  /** For each answer the measured one that it took the place of; null where it says the same. */
  readonly beside: readonly (Answer | null)[]
  /** Measured answers that no answer takes the place of. */
  readonly gone: readonly Answer[]
}

/** What was measured where a correction made it another answer. */
export function measuredBeside(now: readonly Answer[], measured: readonly Answer[]): MeasuredBeside {
  const isSameSet = now.length === measured.length
  const before = now.map((answer, k) => (isSameSet ? measured[k] : measured.find(({ lead }) => lead === answer.lead)))
  return {
    beside: now.map((answer, k) => {
      const was = before[k]
      return was === undefined || answerText(was) === answerText(answer) ? null : was
    }),
    gone: measured.filter((answer) => !before.includes(answer)),
  }
}

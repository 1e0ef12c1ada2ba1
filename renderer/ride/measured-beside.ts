import { type Answer, answerText } from '../../analysis/words/answers.ts'

/** For each answer the measured one that it took the place of; null where it says the same. */
export function measuredBeside(now: readonly Answer[], measured: readonly Answer[]): readonly (Answer | null)[] {
  const isSameSet = now.length === measured.length
  return now.map((answer, k) => {
    const before = isSameSet ? measured[k] : (measured.find(({ lead }) => lead === answer.lead) ?? measured[k])
    return before === undefined || answerText(before) === answerText(answer) ? null : before
  })
}

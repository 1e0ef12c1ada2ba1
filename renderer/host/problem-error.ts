import type { Outcome, Problem, ProblemCode } from '../../main/contract/outcome.ts'

/** A problem of a call as an error, the form in which react-query carries it. Its message is a sentence for people. */
export class ProblemError extends Error {
  readonly code: ProblemCode

  constructor({ code, message }: Problem) {
    super(message)
    this.name = 'ProblemError'
    this.code = code
  }
}

/** The value of an outcome; throws its problem. */
export function valueOrThrow<T>(outcome: Outcome<T>): T {
  if (!outcome.ok) throw new ProblemError(outcome.error)
  return outcome.value
}

/** What every call gives: a value, or the sentence that says what went wrong. Nothing is thrown across the border. */
export type Outcome<T> = { readonly ok: true; readonly value: T } | { readonly ok: false; readonly error: Problem }

export interface Problem {
  readonly code: ProblemCode
  /** One sentence for people: what is wrong and what to do. */
  readonly message: string
}

export type ProblemCode =
  /** The input breaks a rule; the message names the field, the rule and the value. */
  | 'bad-input'
  /** No dog, board, clip, ride, job or file with this id. */
  | 'not-found'
  /** The clip's file cannot be read as a clip. */
  | 'unreadable'
  /** The clip's file is no longer where it was. */
  | 'file-missing'
  /** Something must be done first: mark the plank, choose a board. */
  | 'not-ready'
  /** Another window or program has the library open. */
  | 'in-use'
  /** The caller may not do this. */
  | 'refused'
  /** A bug of ours; the message says what was being done. */
  | 'failed'

/** A value, wrapped. */
export function success<T>(value: T): Outcome<T> {
  return { ok: true, value }
}

/** A problem, wrapped: `problem('not-found', 'This ride is no longer in the library.')`. */
export function problem(code: ProblemCode, message: string): { readonly ok: false; readonly error: Problem } {
  return { ok: false, error: { code, message } }
}

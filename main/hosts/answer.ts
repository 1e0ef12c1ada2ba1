import { calls, type CallName, type Handlers } from '../contract/calls.ts'
import { type Outcome, problem } from '../contract/outcome.ts'
import { LibraryProblem } from '../library/library-problem.ts'
import { badInputSentence } from './bad-input.ts'
import { doing } from './doing.ts'

/** Where a host writes down what went wrong; not for the window. */
export type Log = (line: string, error?: unknown) => void

/**
 * The border between a window and the services, the same for every host: `name` and `input` are whatever came in.
 * Gives an outcome always; nothing is thrown.
 */
export async function answer(handlers: Handlers, name: unknown, input: unknown, log: Log): Promise<Outcome<unknown>> {
  if (!isCallName(name)) return problem('refused', 'This version of Tiphold knows no such call.')
  const parsed = calls[name].input.safeParse(input)
  if (!parsed.success) return problem('bad-input', badInputSentence(parsed.error.issues, input))
  // The parser of this very name made the input, which the compiler cannot see through the table.
  const handler = handlers[name] as (parsed: unknown) => Promise<Outcome<unknown>>
  try {
    return await handler(parsed.data)
  } catch (error) {
    if (error instanceof LibraryProblem) return problem(error.code, error.message)
    log(`failed while ${doing[name]} (${name})`, error)
    return problem('failed', `Something went wrong in Tiphold while ${doing[name]}. It is not your fault.`)
  }
}

export function isCallName(name: unknown): name is CallName {
  return typeof name === 'string' && Object.hasOwn(calls, name)
}

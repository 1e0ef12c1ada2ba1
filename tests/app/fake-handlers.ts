import { calls, type CallName, type Handlers } from '../../main/contract/calls.ts'
import { problem } from '../../main/contract/outcome.ts'

/** Handlers for a test of a screen: those given, and a plain refusal for every other call. */
export function fakeHandlers(given: Partial<Handlers>): Handlers {
  const names = Object.keys(calls) as CallName[]
  const refusing = names.map((name) => [
    name,
    () => Promise.resolve(problem('refused', `This test has no answer for ${name}.`)),
  ])
  return { ...(Object.fromEntries(refusing) as Handlers), ...given }
}

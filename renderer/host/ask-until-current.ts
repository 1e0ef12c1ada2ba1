import type { CallName, Client, InputOf, ValueOf } from '../../main/contract/calls.ts'
import { affectedCalls } from './affected-calls.ts'
import { valueOrThrow } from './problem-error.ts'

/** Where something changes all the time, the answer of this try is taken; a later change is told by itself. */
const MOST_TRIES = 5

/**
 * What a call answers now: asked again when something that it shows was changed while its answer was on the way. A first
 * answer that is out of date would otherwise stay, since what is being asked for is not asked for anew.
 */
export async function askUntilCurrent<Name extends CallName>(
  client: Client,
  name: Name,
  input: InputOf<Name>,
): Promise<ValueOf<Name>> {
  for (let tries = 1; ; tries++) {
    let isCurrent = true
    const stop = client.listen((happening) => {
      if (happening.kind === 'changed' && affectedCalls(happening.what).has(name)) isCurrent = false
    })
    try {
      const value = valueOrThrow(await client.call(name, input))
      if (isCurrent || tries === MOST_TRIES) return value
    } finally {
      stop()
    }
  }
}

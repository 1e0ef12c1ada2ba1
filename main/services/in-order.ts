import type { CallName, Handlers, InputOf, ValueOf } from '../contract/calls.ts'
import type { Outcome } from '../contract/outcome.ts'

/** Changes of one thing, and the calls whose answers show it. */
const CHANGES_OF_CLIP = ['clips.setUp', 'clips.mark', 'clips.findAgain', 'clips.remove'] as const
const SHOW_CLIP = ['clips.get', 'clips.proposeMarks', 'measuring.start'] as const
const CHANGES_OF_RIDE = ['rides.correct', 'rides.review', 'rides.describe', 'rides.remove'] as const
const SHOW_RIDE = ['rides.get'] as const

/**
 * The same handlers, but who asks for a clip or a ride is answered once the changes of it have ended that came before.
 * So a page that is loaded anew shows what was entered just before, and nothing is measured by an older set-up.
 */
export function inOrder(handlers: Handlers): Handlers {
  const clips = new Turns()
  const rides = new Turns()
  const ordered: Partial<Handlers> = {}
  const wrap = <Name extends CallName>(
    name: Name,
    how: (input: InputOf<Name>, answer: () => Promise<Outcome<ValueOf<Name>>>) => Promise<Outcome<ValueOf<Name>>>,
  ): void => {
    // The compiler does not see that a name and its own handler go together.
    const handler = handlers[name] as (input: InputOf<Name>) => Promise<Outcome<ValueOf<Name>>>
    ordered[name] = ((input: InputOf<Name>) => how(input, () => handler(input))) as (typeof ordered)[Name]
  }
  for (const name of CHANGES_OF_CLIP) wrap(name, ({ clipId }, answer) => clips.change(clipId, answer))
  for (const name of SHOW_CLIP) wrap(name, ({ clipId }, answer) => clips.after(clipId, answer))
  for (const name of CHANGES_OF_RIDE) wrap(name, ({ rideId }, answer) => rides.change(rideId, answer))
  for (const name of SHOW_RIDE) wrap(name, ({ rideId }, answer) => rides.after(rideId, answer))
  return { ...handlers, ...ordered }
}

/** What runs for each id: changes one after another, questions after the changes before them. */
class Turns {
  readonly #last = new Map<string, Promise<unknown>>()

  change<T>(id: string, run: () => Promise<T>): Promise<T> {
    const turn = this.after(id, run)
    const over = turn
      .catch(() => undefined)
      .finally(() => {
        if (this.#last.get(id) === over) this.#last.delete(id)
      })
    this.#last.set(id, over)
    return turn
  }

  after<T>(id: string, run: () => Promise<T>): Promise<T> {
    const before = this.#last.get(id)
    return before === undefined ? run() : before.then(run)
  }
}

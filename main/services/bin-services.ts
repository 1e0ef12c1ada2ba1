import type { Handlers } from '../contract/calls.ts'
import type { Library } from '../library/library.ts'
import { answered } from '../library/library-problem.ts'

/** What was removed: told, put back, deleted for good. */
export function binServices({ bin }: Library): Pick<Handlers, 'bin.list' | 'bin.putBack' | 'bin.empty'> {
  return {
    'bin.list': () => answered(() => bin.list()),

    'bin.putBack': ({ removedId }) => answered(() => bin.putBack(removedId)),

    'bin.empty': () =>
      answered(async () => {
        await bin.empty()
        return null
      }),
  }
}

import type { Handlers } from '../contract/calls.ts'
import type { Library } from '../library/library.ts'
import { answered } from '../library/library-problem.ts'
import type { PacksService } from './packs-service.ts'

/**
 * What was removed: told, put back, deleted for good.
 *
 * @param packs told when a pack has come back
 */
export function binServices(
  { bin }: Library,
  packs: Pick<PacksService, 'cameBack'>,
): Pick<Handlers, 'bin.list' | 'bin.putBack' | 'bin.empty'> {
  return {
    'bin.list': () => answered(() => bin.list()),

    'bin.putBack': ({ removedId }) =>
      answered(async () => {
        const removed = await bin.putBack(removedId)
        if (removed.kind === 'pack') await packs.cameBack()
        return removed
      }),

    'bin.empty': () =>
      answered(async () => {
        await bin.empty()
        return null
      }),
  }
}

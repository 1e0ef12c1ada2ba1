import { randomUUID } from 'node:crypto'
import type { Handlers } from '../contract/calls.ts'
import { problem } from '../contract/outcome.ts'
import type { Library } from '../library/library.ts'
import { answered } from '../library/library-problem.ts'

export function dogsServices({ dogs }: Library): Pick<Handlers, 'dogs.list' | 'dogs.keep' | 'dogs.remove'> {
  return {
    'dogs.list': () => answered(() => dogs.list()),

    'dogs.keep': async ({ id, dog }) => {
      if (id !== null && dogs.get(id) === null) return noSuchDog
      const kept = { ...dog, id: id ?? randomUUID() }
      return answered(async () => {
        await dogs.put(kept)
        return kept
      })
    },

    'dogs.remove': async ({ id }) => {
      if (dogs.get(id) === null) return noSuchDog
      return answered(async () => {
        await dogs.remove(id)
        return null
      })
    },
  }
}

export const noSuchDog = problem('not-found', 'This dog is no longer in the library: choose another one.')

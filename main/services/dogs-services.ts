import { randomUUID } from 'node:crypto'
import type { Handlers } from '../contract/calls.ts'
import type { Library } from '../library/library.ts'
import { answered, thereOr } from '../library/library-problem.ts'

export function dogsServices({ dogs }: Library): Pick<Handlers, 'dogs.list' | 'dogs.keep' | 'dogs.remove'> {
  return {
    'dogs.list': () => answered(() => dogs.list()),

    'dogs.keep': ({ id, dog }) =>
      answered(async () => {
        if (id !== null) return thereOr(await dogs.update(id, () => ({ ...dog, id })), noSuchDog)
        const kept = { ...dog, id: randomUUID() }
        await dogs.put(kept)
        return kept
      }),

    'dogs.remove': ({ id }) => answered(async () => thereOr(await dogs.remove(id), noSuchDog)),
  }
}

export const noSuchDog = 'This dog is no longer in the library: choose another one.'

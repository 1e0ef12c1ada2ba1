import { randomUUID } from 'node:crypto'
import type { Handlers } from '../contract/calls.ts'
import type { Dog, DogInput } from '../contract/dogs-and-boards.ts'
import type { Library } from '../library/library.ts'
import { answered, thereOr } from '../library/library-problem.ts'

export function dogsServices({ dogs }: Library): Pick<Handlers, 'dogs.list' | 'dogs.keep' | 'dogs.remove'> {
  return {
    'dogs.list': () => answered(() => dogs.list()),

    'dogs.keep': ({ id, dog }) =>
      answered(async () => {
        if (id !== null) return thereOr(await dogs.update(id, (now) => changedDog(now, dog)), noSuchDog)
        const kept = { ...dog, bodyBefore: [], id: randomUUID() }
        await dogs.put(kept)
        return kept
      }),

    'dogs.remove': ({ id }) => answered(async () => thereOr(await dogs.remove(id), noSuchDog)),
  }
}

/** Height and mass of another day join the earlier ones; of the same day, they correct it. */
function changedDog(now: Dog, dog: DogInput): Dog {
  const { bodyDay: day, withersM, massKg, bodyBefore } = now
  const isOfBefore = day !== dog.bodyDay && (withersM !== dog.withersM || massKg !== dog.massKg)
  const isWorthIt = withersM !== null || massKg !== null
  const before = isOfBefore && isWorthIt && day !== null ? [...bodyBefore, { day, withersM, massKg }] : bodyBefore
  return { ...dog, id: now.id, bodyBefore: before.slice(-200) }
}

export const noSuchDog = 'This dog is no longer in the library: choose another one.'

import { randomUUID } from 'node:crypto'
import type { Handlers } from '../contract/calls.ts'
import { factsByHand, type NotedRide } from '../contract/noted-rides.ts'
import { problem } from '../contract/outcome.ts'
import type { Library } from '../library/library.ts'
import { answered, LibraryProblem, thereOr } from '../library/library-problem.ts'
import { noSuchDog } from './dogs-services.ts'

/** Rides without their film, entered by hand. */
export function notedServices({
  noted,
  dogs,
  boards,
}: Library): Pick<Handlers, 'noted.get' | 'noted.keep' | 'noted.remove'> {
  return {
    'noted.get': ({ id }) => answered(() => thereOr(noted.get(id), noSuchRide)),

    'noted.keep': async ({ id, ride }) => {
      const { leftEarly, ...said } = ride
      if (dogs.get(said.dogId) === null) return problem('not-found', noSuchDog)
      if (said.boardId !== null && boards.get(said.boardId) === null)
        return problem('not-found', 'This board is no longer in the library: choose another one.')
      const facts = factsByHand(leftEarly)
      return answered(async () => {
        if (id === null) {
          const kept: NotedRide = { ...said, id: randomUUID(), origin: 'by-hand', facts }
          await noted.put(kept)
          return kept
        }
        const changed = await noted.update(id, (now) => {
          if (now.origin !== 'by-hand')
            throw new LibraryProblem('refused', 'This ride was measured elsewhere: its numbers cannot be changed.')
          return { ...now, ...said, facts }
        })
        return thereOr(changed, noSuchRide)
      })
    },

    'noted.remove': ({ id }) => answered(async () => thereOr(await noted.remove(id), noSuchRide)),
  }
}

const noSuchRide = 'This ride is no longer in the library: go back to the dog.'

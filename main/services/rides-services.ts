import { correctionsFault } from '../../analysis/ride/corrections.ts'
import type { Handlers } from '../contract/calls.ts'
import { problem } from '../contract/outcome.ts'
import type { AnyRideCard, RideDetail } from '../contract/rides.ts'
import { changedSession, type RideSession } from '../contract/sessions.ts'
import type { Library } from '../library/library.ts'
import { answered, LibraryProblem, thereOr } from '../library/library-problem.ts'
import { currentRide } from '../library/ride-card.ts'
import { byDay, notedCards } from './noted-cards.ts'
import { countedRides, countedTags, foundRides } from './rides-query.ts'
import { noSuchDog } from './dogs-services.ts'

export function ridesServices(
  library: Library,
): Pick<
  Handlers,
  | 'rides.list'
  | 'rides.listAll'
  | 'rides.tags'
  | 'rides.count'
  | 'rides.get'
  | 'rides.correct'
  | 'rides.review'
  | 'rides.describe'
  | 'rides.setSession'
  | 'rides.remove'
> {
  const { rides, noted, dogs } = library

  const detail = async (rideId: string): Promise<RideDetail> => {
    const ride = await rides.get(rideId)
    const card = rides.cards().find(({ id }) => id === rideId)
    if (ride === null || card === undefined) throw new LibraryProblem('not-found', noSuchRide)
    const { record, corrections, review } = ride
    return { card, ...record, current: currentRide(record, corrections), corrections, review }
  }

  return {
    'rides.list': (query) => answered(() => foundRides(rides.cards(), query)),

    'rides.listAll': ({ film, ...query }) =>
      answered(() => {
        const filmed = film === 'not-filmed' ? [] : rides.cards()
        return foundRides<AnyRideCard>(film === 'filmed' ? filmed : byDay(filmed, notedCards(library)), query)
      }),

    'rides.tags': ({ rideIds }) =>
      answered(() => {
        const asked = new Set(rideIds)
        const sessions = [...rides.cards(), ...noted.list()].filter(({ id }) => asked.has(id))
        return countedTags(sessions.flatMap(({ session }) => session.tags))
      }),

    'rides.count': () => answered(() => countedRides(rides.cards())),

    'rides.get': ({ rideId }) => answered(() => detail(rideId)),

    'rides.correct': async ({ rideId, corrections }) =>
      answered(async () => {
        await rides.change(rideId, { corrections }, ({ measured }) => {
          const fault = correctionsFault(corrections, measured.footfalls.length)
          if (fault !== null) throw new LibraryProblem('bad-input', fault)
        })
        return detail(rideId)
      }),

    'rides.review': async ({ rideId, items }) =>
      answered(async () => {
        await rides.review(rideId, items)
        return detail(rideId)
      }),

    'rides.describe': async ({ rideId, title, note, dogId }) => {
      if (dogId !== null && dogs.get(dogId) === null) return problem('not-found', noSuchDog)
      return answered(async () => {
        await rides.change(rideId, { title, note, dogId })
        return detail(rideId)
      })
    },

    'rides.setSession': async ({ rideIds, change, dogId }) => {
      if (dogId !== undefined && dogs.get(dogId) === null) return problem('not-found', noSuchDog)
      const to = (now: RideSession): RideSession => changedSession(now, change)
      return answered(async () => {
        let changed = 0
        for (const rideId of rideIds) {
          const isThere =
            (await rides.changeSession(rideId, to, dogId)) ||
            (await noted.update(rideId, (now) => ({
              ...now,
              session: to(now.session),
              ...(dogId === undefined ? {} : { dogId }),
            }))) !== null
          changed += Number(isThere)
        }
        return { changed }
      })
    },

    'rides.remove': ({ rideId }) => answered(async () => thereOr(await rides.remove(rideId), noSuchRide)),
  }
}

const noSuchRide = 'This ride is no longer in the library: go back to the list.'

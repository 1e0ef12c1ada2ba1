import { withheld } from '../../analysis/estimate.ts'
import type { AnyRideCard, NotedCard, RideCard } from '../contract/rides.ts'
import type { NotedRide } from '../contract/noted-rides.ts'
import type { Library } from '../library/library.ts'
import { z } from 'zod'

const NOT_SEEN = withheld('not-seen', '')

/** What a list shows of facts that may come from a file of somebody else's; anything else in them is not looked at. */
const factsShape = z.looseObject({
  leaving: z
    .looseObject({ verdict: z.enum(['after-ground', 'before-ground', 'before-tip', 'too-close', 'not-seen']) })
    .nullable()
    .catch(null)
    .default(null),
  measures: z
    .looseObject({
      holdBeforeGroundS: z
        .discriminatedUnion('kind', [
          z.object({
            kind: z.literal('measured'),
            value: z.number(),
            sd: z.number(),
            ci95: z.tuple([z.number(), z.number()]),
          }),
          z.object({ kind: z.literal('atLeast'), value: z.number() }),
        ])
        .nullable()
        .catch(null)
        .default(null),
    })
    .nullable()
    .catch(null)
    .default(null),
})

const cards = new WeakMap<NotedRide, Pick<NotedCard, 'leaving' | 'hold'>>()

/** Rides without their film, as lists show them. */
export function notedCards(library: Pick<Library, 'noted' | 'dogs' | 'boards'>): readonly NotedCard[] {
  const { noted, dogs, boards } = library
  return noted.list().map((ride) => {
    const [dog, board] = [dogs.get(ride.dogId ?? ''), boards.get(ride.boardId ?? '')]
    return {
      id: ride.id,
      origin: ride.origin,
      dogId: dog?.id ?? null,
      dogName: dog?.name ?? null,
      boardId: board?.id ?? null,
      boardName: board?.name ?? null,
      title: '',
      fileName: '',
      note: ride.note,
      comments: [],
      session: ride.session,
      ...toldOf(ride),
    }
  })
}

function toldOf(ride: NotedRide): Pick<NotedCard, 'leaving' | 'hold'> {
  const known = cards.get(ride)
  if (known !== undefined) return known
  const facts = factsShape.safeParse(ride.facts)
  const { leaving, measures } = facts.success ? facts.data : { leaving: null, measures: null }
  const told = { leaving: leaving?.verdict ?? null, hold: measures?.holdBeforeGroundS ?? NOT_SEEN }
  cards.set(ride, told)
  return told
}

/** Both together, the newest day first; a filmed ride without a day goes by when its clip was taken in, others last. */
export function byDay(filmed: readonly RideCard[], noted: readonly NotedCard[]): readonly AnyRideCard[] {
  const dayOf = (card: AnyRideCard): string => card.session.day ?? ('origin' in card ? '' : card.takenInAt.slice(0, 10))
  const all = [...filmed, ...noted].map((card) => ({ card, day: dayOf(card) }))
  return all.sort((a, b) => (a.day < b.day ? 1 : a.day > b.day ? -1 : 0)).map(({ card }) => card)
}

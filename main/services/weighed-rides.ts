import { type WeighedRide, weighedRide } from '../../analysis/board-physics/weighed-ride.ts'
import type { RideCard } from '../contract/rides.ts'
import type { Library } from '../library/library.ts'
import { LibraryProblem } from '../library/library-problem.ts'
import { currentRide } from '../library/ride-card.ts'

/** More rides of one dog say little more of a board: what is not known of the dog is the same in all of them. */
const RIDES_OF_A_DOG = 6
const RIDES_OF_A_BOARD = 24

/** A ride that may tell of its board: the dog was weighed and stayed on. */
export interface WeighedCard {
  readonly card: RideCard
  readonly dog: { readonly id: string; readonly massKg: number }
  /** Another object once the ride has changed. */
  readonly version: object | null
}

/** Rides of weighed dogs by the id of their board, the newest of each dog. */
export function weighedCards(library: Library): ReadonlyMap<string, readonly WeighedCard[]> {
  const massOf = new Map(library.dogs.list().map(({ id, massKg }) => [id, massKg]))
  const byBoard = new Map<string, WeighedCard[]>()
  for (const card of library.rides.cards()) {
    const { dogId, boardId, leaving } = card
    const massKg = massOf.get(dogId ?? '') ?? null
    if (dogId === null || boardId === null || massKg === null || leaving !== 'after-ground') continue
    const rides = byBoard.get(boardId) ?? []
    byBoard.set(boardId, rides)
    if (rides.length >= RIDES_OF_A_BOARD || rides.filter(({ dog }) => dog.id === dogId).length >= RIDES_OF_A_DOG)
      continue
    rides.push({ card, dog: { id: dogId, massKg }, version: library.rides.version(card.id) })
  }
  return byBoard
}

/** What these rides tell of their board; one that cannot be read or tells nothing is left out. */
export async function weighedRides(library: Library, cards: readonly WeighedCard[]): Promise<readonly WeighedRide[]> {
  const told: WeighedRide[] = []
  for (const { card, dog } of cards) {
    try {
      const ride = await library.rides.get(card.id)
      if (ride === null) continue
      const one = weighedRide(currentRide(ride.record, ride.corrections), dog, ride.record.picture.board.lengthM)
      if (one !== null) told.push(one)
    } catch (error) {
      // The ride's own screen says what is wrong with it.
      if (!(error instanceof LibraryProblem)) throw error
    }
  }
  return told
}

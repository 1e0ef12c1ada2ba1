import type { Estimate } from '../../../analysis/estimate.ts'
import { reviewLines } from '../../../analysis/review/review-words.ts'
import type { RideCard } from '../../contract/rides.ts'
import type { RideSession } from '../../contract/sessions.ts'
import type { KeptRide, Library } from '../../library/library.ts'
import { LibraryProblem } from '../../library/library-problem.ts'
import { currentRide } from '../../library/ride-card.ts'

/** One ride of the library as a file of rides has it; `rideId` and `isFilmed` are additions of ours. */
export type LibraryRide = Readonly<Record<string, unknown>> & {
  readonly rideId: string
  readonly isFilmed: boolean
}

/** Rides of the library as `tiphold.rides/1`. */
export interface LibraryRidesFile {
  readonly schema: 'tiphold.rides/1'
  readonly dogs: readonly (Readonly<Record<string, unknown>> & { readonly name: string })[]
  readonly boards: readonly {
    readonly name: string
    readonly material: string | null
    /** How it feels by drop tests and rides of weighed dogs, s under a dog of 10 kg; an addition of ours. */
    readonly feelS?: Estimate
  }[]
  readonly rides: readonly LibraryRide[]
}

/** Which rides are wanted; everything where neither is given. */
export interface Wanted {
  readonly dogIds?: readonly string[]
  readonly boardId?: string
  /** Only what lists show, from memory: leaving, zones, margin, hold and lead paw. Ten thousand rides take no time so. */
  readonly inShort?: boolean
}

type Facts = Readonly<Record<string, unknown>>

/**
 * Reads rides out of a library; what was read of a ride stays in memory until the ride changes.
 *
 * @param feelOf how a board feels, s; null where that is not known
 */
export function libraryRides(
  library: Library,
  feelOf: (boardId: string) => Estimate | null = () => null,
): (wanted: Wanted) => Promise<LibraryRidesFile> {
  const factsByVersion = new WeakMap<object, Facts>()

  async function factsOf(card: RideCard): Promise<Facts> {
    const version = library.rides.version(card.id)
    const known = version === null ? undefined : factsByVersion.get(version)
    if (known !== undefined) return known
    try {
      const ride = await library.rides.get(card.id)
      const facts = ride === null ? {} : factsOfRide(ride)
      if (version !== null) factsByVersion.set(version, facts)
      return facts
    } catch (error) {
      // One damaged record must not hide a season; the ride's own screen says what is wrong with it.
      if (error instanceof LibraryProblem) return {}
      throw error
    }
  }

  return async ({ dogIds, boardId, inShort = false }) => {
    const names = namesIn(library)
    const isWanted = (ride: { readonly dogId: string | null; readonly boardId: string | null }) =>
      ride.dogId !== null &&
      names.dogs.has(ride.dogId) &&
      ((dogIds === undefined && boardId === undefined) ||
        (dogIds?.includes(ride.dogId) ?? false) ||
        (boardId !== undefined && ride.boardId === boardId))
    const filmed: LibraryRide[] = []
    for (const card of library.rides.cards().filter(isWanted).toReversed()) {
      const { id, title, session, fileName, isCorrected } = card
      filmed.push({
        rideId: id,
        isFilmed: true,
        ...sayings(names, card, session),
        byHand: false,
        title,
        clip: fileName,
        isCorrected,
        ...(inShort ? shortFactsOf(card) : await factsOf(card)),
      })
    }
    const noted = library.noted
      .list()
      .filter(isWanted)
      .toReversed()
      .map((ride): LibraryRide => ({
        rideId: ride.id,
        isFilmed: false,
        ...sayings(names, ride, ride.session),
        byHand: ride.origin === 'by-hand',
        ...(ride.origin === 'invented' ? { invented: true } : {}),
        title: '',
        ...ride.facts,
      }))
    const rides = [...filmed, ...noted].sort((a, b) => order(a, b))
    const usedBoards = new Set(rides.map(({ board }) => board))
    return {
      schema: 'tiphold.rides/1',
      dogs: library.dogs
        .list()
        .filter(({ id }) => dogIds === undefined || dogIds.includes(id))
        .map(({ id, bornInMonth, massKg, withersM, criterion }) => ({
          name: names.dogs.get(id)!,
          ...(bornInMonth === null ? {} : { bornInMonth }),
          massKg,
          heightM: withersM,
          criterion,
        })),
      boards: library.boards
        .list()
        .filter(({ id }) => dogIds === undefined || usedBoards.has(names.boards.get(id)!) || id === boardId)
        .map(({ id, shape }) => {
          const feelS = feelOf(id)
          const name = names.boards.get(id)!
          return { name, material: shape.materialWord ?? null, ...(feelS === null ? {} : { feelS }) }
        }),
      rides,
    }
  }
}

function factsOfRide({ record, corrections, review }: KeptRide): Facts {
  const { events, measures, zones, leaving } = currentRide(record, corrections)
  const comments = reviewLines(review)
  return { events, measures, zones, leaving, ...(comments.length === 0 ? {} : { comments }) }
}

function shortFactsOf({ leaving, up, down, leavingMargin, hold, leadPawAtTip }: RideCard): Facts {
  return {
    measures: { leavingMarginS: leavingMargin, holdBeforeGroundS: hold, leadPawAtTipM: leadPawAtTip },
    zones: { up: { verdict: up }, down: { verdict: down } },
    leaving: { verdict: leaving },
  }
}

interface Names {
  readonly dogs: ReadonlyMap<string, string>
  readonly boards: ReadonlyMap<string, string>
}

/** A file of rides knows things by their names, so of two with the same name the later ones get a number. */
export function namesIn({ dogs, boards }: Pick<Library, 'dogs' | 'boards'>): Names {
  return { dogs: distinct(dogs.list()), boards: distinct(boards.list()) }
}

function distinct(things: readonly { readonly id: string; readonly name: string }[]): ReadonlyMap<string, string> {
  const taken = new Set<string>()
  const names = new Map<string, string>()
  // The oldest keeps its name.
  for (const { id, name } of things.toReversed()) {
    const plain = name.trim()
    let own = plain
    for (let k = 2; taken.has(own.toLowerCase()); k++) own = `${plain} (${k})`
    taken.add(own.toLowerCase())
    names.set(id, own)
  }
  return names
}

function sayings(
  names: Names,
  { dogId, boardId }: { readonly dogId: string | null; readonly boardId: string | null },
  { day, purpose, surface, venue, weather, handler, tags }: RideSession,
): Facts & { readonly day: string | null; readonly board: string | null } {
  return {
    dog: names.dogs.get(dogId ?? '')!,
    board: names.boards.get(boardId ?? '') ?? null,
    day,
    purpose,
    surface: surface.trim() === '' ? null : surface.trim(),
    venue,
    weather,
    handler,
    tags,
  }
}

/** By day, those without one last. */
function order(a: LibraryRide, b: LibraryRide): number {
  const [dayA, dayB] = [a, b].map(({ day }) => (typeof day === 'string' ? day : '9999'))
  if (dayA !== dayB) return dayA! < dayB! ? -1 : 1
  return 0
}

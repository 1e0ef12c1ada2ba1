import { fallsAndLeavings } from './fall-and-leaving.ts'
import { boardsOf, DAYS_PER_MONTH, measuredRides, type SeasonRide } from './season.ts'

/** What rides say of the leaving margin, as the show check uses it. */
export interface ShowMargins {
  readonly rides: readonly ShowMargin[]
  readonly boardCount: number
  readonly dayCount: number
  /** The board that is asked for among the rides' boards; null for one that the dog has not been on. */
  readonly board: number | null
  /** Scatter of one board's falls, s. */
  readonly fallScatterS: number
  /** How far the fall of the board asked for may be off, 1 sd, s. */
  readonly askedFallSdS: number
  /** Where the dog's usual boards lie against the one asked for: usual fall minus its fall, s; 0 when unknown. */
  readonly usualFallAheadS: number
}

export interface ShowMargin {
  readonly index: number
  /** s; null when only a bound is known. */
  readonly marginS: number | null
  readonly sd: number
  /** What the margin must lie between, s; used where it was not measured. */
  readonly between: readonly [number, number]
  /** The board's fall minus that of the board asked for, s. */
  readonly fallAheadS: number
  readonly board: number
  readonly day: number
  /** Months before the last ride, 0 or less. */
  readonly months: number
  readonly isShow: boolean
}

/**
 * Prepares rides for the show check: their margins, seen from the board that is asked for.
 *
 * @param rides of one dog, those that count
 * @param ask the board's name, or its fall in s, or both; 1 sd of the fall
 * @returns null fall differences count as 0: a ride whose fall is unknown is taken to be on a usual board
 */
export function showMargins(
  rides: readonly SeasonRide[],
  ask: { readonly board: string | null; readonly fallS: number | null; readonly fallSdS?: number },
): ShowMargins {
  const falls = fallsAndLeavings(rides)
  const fallOf = new Map(falls.rides.map(({ ride, fallS }) => [ride.index, fallS]))
  const usual = new Map(falls.boards.map((board, b) => [board, falls.usualFallS[b]!]))
  const usable = measuredRides(rides).flatMap((ride) => {
    const between = rangeOf(ride)
    return between === null ? [] : [{ ride, ...between }]
  })
  const known = usable.flatMap(({ ride }) => fallOf.get(ride.index) ?? usual.get(ride.board ?? '') ?? [])
  const usualFallS = known.length === 0 ? null : known.reduce((sum, fall) => sum + fall, 0) / known.length
  const asked = ask.fallS ?? (ask.board === null ? null : (usual.get(ask.board) ?? null)) ?? usualFallS
  const boards = boardsOf(usable.map(({ ride }) => ride))
  const unknownBoard = usable.some(({ ride }) => ride.board === null) ? 1 : 0
  const days = [...new Set(usable.map(({ ride }) => ride.day))]
  const last = Math.max(...usable.map(({ ride }) => ride.day ?? -Infinity))
  const boardIndex = ask.board === null ? -1 : boards.indexOf(ask.board)
  return {
    rides: usable.map(({ ride, marginS, sd, between }) => {
      const fallS = fallOf.get(ride.index) ?? usual.get(ride.board ?? '') ?? usualFallS
      return {
        index: ride.index,
        marginS,
        sd,
        between,
        fallAheadS: fallS === null || asked === null ? 0 : fallS - asked,
        board: ride.board === null ? boards.length : boards.indexOf(ride.board),
        day: days.indexOf(ride.day),
        months: ride.day === null ? 0 : (ride.day - last) / DAYS_PER_MONTH,
        isShow: ride.purpose === 'show',
      }
    }),
    boardCount: boards.length + unknownBoard,
    dayCount: days.length,
    board: boardIndex < 0 ? null : boardIndex,
    fallScatterS: falls.fallScatterS,
    askedFallSdS: ask.fallSdS ?? 0,
    usualFallAheadS: usualFallS === null || asked === null ? 0 : usualFallS - asked,
  }
}

/** The margin of a ride, or what its verdict says of it; null when neither is known. */
function rangeOf(ride: SeasonRide): Pick<ShowMargin, 'marginS' | 'sd' | 'between'> | null {
  const margin = ride.measures['leavingMarginS']
  if (margin?.kind === 'measured') return { marginS: margin.value, sd: margin.sd, between: [-Infinity, Infinity] }
  if (margin?.kind === 'atLeast') return { marginS: null, sd: 0, between: [margin.value, Infinity] }
  if (ride.leaving === 'after-ground') return { marginS: null, sd: 0, between: [0, Infinity] }
  const isEarly = ride.leaving === 'before-ground' || ride.leaving === 'before-tip'
  return isEarly ? { marginS: null, sd: 0, between: [-Infinity, 0] } : null
}

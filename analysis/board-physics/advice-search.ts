import type { Measured } from '../estimate.ts'
import { median } from '../numeric/robust.ts'
import type { AdviceOption, Counterweight } from './advice-option.ts'
import type { BoardDraw, BoardFit } from './board-fit.ts'
import { fromDraws, shareOf } from './draws-summary.ts'
import { returns } from './return-swing.ts'
import { withMass, type BoardLaw } from './seesaw-law.ts'
import { fallTimes, withHand, type WeightTest } from './weight-test.ts'

/** The predicted interval stays this far inside the window, s (ours: hands and watches differ by about as much). */
const MARGIN_S = 0.05
/** Without a lower limit the fall is brought to this much below the upper one, s (ours). */
const BELOW_S = 0.5
/**
 * Times aimed at, from the middle of the window, s: the nearest at which every check holds is taken. A board that falls
 * more slowly is held harder, and so comes back more surely (ours).
 */
const AIMS_OFF_S = [0, 0.15, -0.15, 0.3, 0.4] as const
/** Places that are tried, as shares of the way from the pivot to an end; the ends themselves touch the ground (ours). */
const PLACES = [0.3, 0.5, 0.7, 0.85] as const
/** Heavier masses are not advised, kg: more than that is no counterbalance any more. Lighter ones make no difference (ours). */
const MOST_KG = 8
const LEAST_KG = 0.05
/** A shift by less than this is no advice, m (ours: a clamp is set to about a centimetre). */
const LEAST_SHIFT_M = 0.02
/** Masses are told to steps of 50 g above a kilogram, to 10 g below (ours: what kitchen and luggage scales tell). */
const STEP_KG = { heavy: 0.05, light: 0.01, heavyFromKg: 1 } as const
/** Places are told to the centimetre. */
const PLACE_DECIMALS = 2
/** The entry end must come back by itself, and the exit end come down, for at least these shares of the boards that agree with the drops (ours). */
const SURELY_RETURNS = 0.975
const SURELY_FALLS = 0.995
/** A board that stays is taken as one that falls so late, s: later than any. */
const STAYS_S = 1000
/** Boards that a mass is searched with, and that it is checked with (ours). */
const SEARCH_DRAWS = 120
const CHECK_DRAWS = 600
/** Halvings of the way from no mass to the heaviest: to half a gram. */
const HALVINGS = 14

/** What is done to a board. */
type Change = (law: BoardLaw) => BoardLaw

/**
 * What the boards that agree with the drops say of a change: safe; the fall may be anywhere, wherever one aims; it lies
 * outside the window; the entry end may not, or does not, come back.
 */
type Judged =
  | { readonly kind: 'safe'; readonly fallS: Measured }
  | { readonly kind: 'too-wide' | 'outside' | 'return-unsure' | 'stays-down' }

/** Tries changes of a board on all boards that agree with its drops. */
export class Search {
  readonly halfM: number
  /** Times that a change may aim at, the best first, s of the rule set's clock. */
  readonly aimsS: readonly number[]
  readonly #fit: BoardFit
  readonly #test: WeightTest
  readonly #few: readonly BoardDraw[]
  readonly #many: readonly BoardDraw[]
  readonly #met = new Set<Judged['kind']>()

  /**
   * @param fit what the drops tell of the board
   * @param test the rule set's test
   * @param halfM of the plank's length, m
   */
  constructor(fit: BoardFit, test: WeightTest, halfM: number) {
    this.#fit = fit
    this.#test = test
    this.halfM = halfM
    this.#few = everyNth(fit.draws, SEARCH_DRAWS)
    this.#many = everyNth(fit.draws, CHECK_DRAWS)
    const middleS = test.leastS === null ? test.mostS - BELOW_S : (test.leastS + test.mostS) / 2
    this.aimsS = AIMS_OFF_S.map((offS) => middleS + offS)
  }

  /** How long the changed board most likely takes, s of the rule set's clock; `STAYS_S` and more where it stays. */
  likelyS(change: Change): number {
    const times = this.#times(this.#few, change).map((timeS) => Math.min(timeS, STAYS_S))
    return median(times) + this.#test.handS.value
  }

  /** The fall of the changed board, or what stands against the change. */
  judge(change: Change): Judged {
    const judged = this.#judged(change)
    if (judged.kind !== 'safe') this.#met.add(judged.kind)
    return judged
  }

  /** Why no change that was judged will do. */
  whyNone(): 'fall-unsure' | 'return-unsure' | 'no-place' {
    if (this.#met.has('return-unsure')) return 'return-unsure'
    return this.#met.has('too-wide') || this.#met.has('outside') ? 'fall-unsure' : 'no-place'
  }

  #judged(change: Change): Judged {
    const { leastS, mostS } = this.#test
    const times = this.#times(this.#many, change)
    const falls = times.filter(Number.isFinite)
    if (falls.length < SURELY_FALLS * times.length) return { kind: 'too-wide' }
    const fallS = fromDraws(withHand(falls, this.#test))
    const [earlyS, lateS] = fallS.ci95
    if (lateS - earlyS > mostS - (leastS ?? 0) - 2 * MARGIN_S) return { kind: 'too-wide' }
    if (earlyS <= (leastS ?? -MARGIN_S) + MARGIN_S || lateS >= mostS - MARGIN_S) return { kind: 'outside' }
    const back = this.#back(change)
    if (back >= SURELY_RETURNS) return { kind: 'safe', fallS }
    return { kind: back > 1 - SURELY_RETURNS ? 'return-unsure' : 'stays-down' }
  }

  /** For which share of the boards the entry end comes back by itself. */
  #back(change: Change): number {
    return shareOf(this.#many, ({ law }) => returns(change(law), this.#fit.restRad + this.#fit.swingRad))
  }

  /** s since the hand was off. */
  #times(draws: readonly BoardDraw[], change: Change): number[] {
    const { massKg, massAtM } = this.#test
    return fallTimes(this.#fit, { massKg, fromPivotM: massAtM - this.halfM }, draws, change)
  }
}

/**
 * Masses that may be fastened to the board, one for each place where one is safe: on the entry half when the board is too
 * fast for what is aimed at, on the exit half when it is too slow.
 *
 * @param search the board
 * @returns options, unordered
 */
export function added(search: Search): AdviceOption[] {
  const nowS = search.likelyS((law) => law)
  return PLACES.flatMap((share) =>
    firstSafe(search, (aimS) => {
      const side = nowS > aimS ? 1 : -1
      const fromPivotM = Number((side * share * search.halfM).toFixed(PLACE_DECIMALS))
      const massKg = solve((m) => side * (aimS - search.likelyS((law) => withMass(law, m, fromPivotM))), MOST_KG)
      if (massKg === null || massKg < LEAST_KG) return null
      const round = roundMass(massKg)
      const change = (law: BoardLaw) => withMass(law, round, fromPivotM)
      return { doWhat: 'add', massKg: round, atM: alongM(search, fromPivotM), fromM: null, change }
    }),
  )
}

/**
 * Known counterweights moved or taken off where that is safe.
 *
 * @param search the board
 * @param counterweights what is fastened to it
 * @returns options, unordered
 */
export function changed(search: Search, counterweights: readonly Counterweight[]): AdviceOption[] {
  return counterweights.flatMap((weight) => [
    ...firstSafe(search, (aimS) => moved(search, weight, aimS)),
    ...firstSafe(search, (aimS) => takenOff(search, weight, aimS)),
  ])
}

type Unjudged = Omit<AdviceOption, 'fallS'> & { readonly change: Change }

function firstSafe(search: Search, optionFor: (aimS: number) => Unjudged | null): AdviceOption[] {
  for (const aimS of search.aimsS) {
    const found = optionFor(aimS)
    if (found === null) continue
    const { change, ...option } = found
    const judged = search.judge(change)
    if (judged.kind === 'safe') return [{ ...option, fallS: judged.fallS }]
    if (judged.kind === 'too-wide') return []
  }
  return []
}

function moved(search: Search, { massKg, atM }: Counterweight, aimS: number): Unjudged | null {
  const from = atM - search.halfM
  const side = search.likelyS((law) => law) > aimS ? 1 : -1
  const reach = side * PLACES[PLACES.length - 1]! * search.halfM
  const to = (toM: number) => (law: BoardLaw) => withMass(withMass(law, -massKg, from), massKg, toM)
  const share = solve((s) => side * (aimS - search.likelyS(to(from + s * (reach - from)))), 1)
  if (share === null || Math.abs(share * (reach - from)) < LEAST_SHIFT_M) return null
  const toM = Number((from + share * (reach - from)).toFixed(PLACE_DECIMALS))
  return { doWhat: 'move', massKg, atM: alongM(search, toM), fromM: atM, change: to(toM) }
}

function takenOff(search: Search, { massKg, atM }: Counterweight, aimS: number): Unjudged | null {
  const from = atM - search.halfM
  const side = search.likelyS((law) => law) > aimS ? 1 : -1
  const part = solve((m) => side * (aimS - search.likelyS((law) => withMass(law, -m, from))), massKg)
  if (part === null || part < LEAST_KG) return null
  const round = Math.min(massKg, roundMass(part))
  return { doWhat: 'take-off', massKg: round, atM, fromM: null, change: (law) => withMass(law, -round, from) }
}

/** Where a rising function passes 0 between 0 and `most`; null when it does not. */
function solve(rising: (x: number) => number, most: number): number | null {
  if (!(rising(0) < 0) || !(rising(most) > 0)) return null
  let [low, high] = [0, most]
  for (let round = 0; round < HALVINGS; round++) {
    const middle = (low + high) / 2
    if (rising(middle) < 0) low = middle
    else high = middle
  }
  return (low + high) / 2
}

function roundMass(massKg: number): number {
  const step = massKg > STEP_KG.heavyFromKg ? STEP_KG.heavy : STEP_KG.light
  return Number((Math.round(massKg / step) * step).toFixed(2))
}

function alongM({ halfM }: Search, fromPivotM: number): number {
  return Number((halfM + fromPivotM).toFixed(PLACE_DECIMALS))
}

function everyNth<T>(values: readonly T[], count: number): readonly T[] {
  const every = Math.max(1, Math.floor(values.length / count))
  return values.filter((_, k) => k % every === 0)
}

import type { Board } from '../board/board.ts'
import type { Measured } from '../estimate.ts'
import { median } from '../numeric/robust.ts'
import type { BoardDraw, BoardFit } from './board-fit.ts'
import { fromDraws, shareOf } from './draws-summary.ts'
import { returns } from './return-swing.ts'
import { withMass, type BoardLaw } from './seesaw-law.ts'
import { fallTimes, withHand, type FallPrediction, type WeightTest } from './weight-test.ts'

/** A mass that is fastened to the board as a counterbalance already. */
export interface Counterweight {
  readonly massKg: number
  /** m along from the entry end. */
  readonly atM: number
}

/** One way to bring the fall into the window. */
export interface AdviceOption {
  readonly doWhat: 'add' | 'move' | 'take-off'
  readonly massKg: number
  /** m along from the entry end: where it goes, or where it is taken off. */
  readonly atM: number
  /** Where it is now, when it is moved. */
  readonly fromM: number | null
  /** The fall that follows, timed as the rule set says, s. */
  readonly fallS: Measured
}

/** Why nothing is advised. */
export interface AdviceWithheld {
  readonly reason: 'needs-second-weight' | 'needs-heavier-weight' | 'needs-a-drop' | 'no-safe-place' | 'too-uncertain'
  readonly detail: string
}

export interface Advice {
  readonly options: readonly AdviceOption[]
  /** Null when there is advice, or when none is needed. */
  readonly withheld: AdviceWithheld | null
}

/** The predicted interval stays this far inside the window, s. */
const MARGIN_S = 0.05
/** Without a lower limit the fall is brought to this much below the upper one, s. */
const BELOW_S = 0.5
/** Places that are tried, as shares of the way from the pivot to an end; the ends themselves touch the ground. */
const PLACES = [0.3, 0.5, 0.7, 0.85] as const
/** Heavier masses are not advised, kg; lighter ones make no difference. */
const MOST_KG = 8
const LEAST_KG = 0.05
/** The entry end must come back by itself for at least this share of the boards that agree with the drops. */
const SURELY_RETURNS = 0.975
const SURELY_FALLS = 0.995
/** A board that stays is taken as one that falls so late, s. */
const STAYS_S = 1000
const SEARCH_DRAWS = 120
const CHECK_DRAWS = 600
const MOST_OPTIONS = 4

/**
 * What to fasten where, move or take off so that the board falls in time and still comes back by itself.
 *
 * An option is given only when its whole 95 % interval lies inside the window with a margin.
 *
 * @param fit what the drops tell of the board
 * @param test the rule set's test
 * @param now what the test gives for the board as it is
 * @param board sizes, m
 * @param counterweights what is known to be fastened to it
 * @returns options, those with known counterweights first, then the surest; none when the board is within the window already
 */
export function adviceFor(
  fit: BoardFit,
  test: WeightTest,
  now: FallPrediction,
  board: Pick<Board, 'lengthM'>,
  counterweights: readonly Counterweight[] = [],
): Advice {
  if (now.verdict === 'within') return { options: [], withheld: null }
  if (fit.draws.length === 0) return { options: [], withheld: NEEDS_A_DROP }
  const search = new Search(fit, test, board.lengthM / 2)
  const bySpread = (a: AdviceOption, b: AdviceOption) => spread(a) - spread(b)
  // What is fastened already needs nothing new.
  const all = [...changed(search, counterweights).sort(bySpread), ...added(search).sort(bySpread)]
  const options = all.filter((option) => search.isSafe(option))
  if (options.length > 0) return { options: options.slice(0, MOST_OPTIONS), withheld: null }
  return { options: [], withheld: withheldFor(fit, now, search.hasLanding()) }
}

const NEEDS_A_DROP: AdviceWithheld = {
  reason: 'needs-a-drop',
  detail:
    'The files hold no frames that show the board move. Film a drop from the side, from before the weight is laid on until the board has landed.',
}

function spread({ fallS }: AdviceOption): number {
  return fallS.ci95[1] - fallS.ci95[0]
}

const ONLY_DIRECTION =
  'The board never moved, so only the direction is known: it needs weight on the exit half, or some taken off the entry half. Film a drop with a heavier weight that moves it, and the advice can name a mass.'
const NEVER_MOVED =
  'The board never moved, so nothing is known of how it falls. Film a drop with a heavier weight that moves it.'

function withheldFor({ settled }: BoardFit, { verdict }: FallPrediction, landsSomewhere: boolean): AdviceWithheld {
  switch (settled) {
    case 'nothing':
      return {
        reason: 'needs-heavier-weight',
        detail: verdict === 'never-moves' ? ONLY_DIRECTION : NEVER_MOVED,
      }
    case 'ratios':
      return {
        reason: 'needs-second-weight',
        detail:
          'One drop alone cannot tell a heavy board from a light one. Film a second drop with another weight, or weigh the plank.',
      }
    case 'board':
      return landsSomewhere
        ? {
            reason: 'too-uncertain',
            detail:
              'The drops do not tell the board well enough to name a mass that is sure to help. Film another drop with a weight that differs more, from the side and with the whole board in the picture.',
          }
        : {
            reason: 'no-safe-place',
            detail:
              'No mass at any place along the plank brings the fall into the window and lets the entry end come back by itself. Look at axle and friction first.',
          }
  }
}

class Search {
  readonly halfM: number
  readonly #fit: BoardFit
  readonly #test: WeightTest
  readonly #few: readonly BoardDraw[]
  readonly #many: readonly BoardDraw[]
  readonly #aimS: number

  constructor(fit: BoardFit, test: WeightTest, halfM: number) {
    this.#fit = fit
    this.#test = test
    this.halfM = halfM
    this.#few = everyNth(fit.draws, SEARCH_DRAWS)
    this.#many = everyNth(fit.draws, CHECK_DRAWS)
    this.#aimS = test.leastS === null ? test.mostS - BELOW_S : (test.leastS + test.mostS) / 2
  }

  /** By how much the changed board most likely misses the time aimed at, s. */
  off(change: (law: BoardLaw) => BoardLaw): number {
    const times = this.#times(this.#few, change).map((timeS) => Math.min(timeS, STAYS_S))
    return median(times) + this.#test.handS.value - this.#aimS
  }

  /** The fall of the changed board, or null when it may not fall at all or may not come back. */
  fall(change: (law: BoardLaw) => BoardLaw): Measured | null {
    const times = this.#times(this.#many, change)
    const falls = times.filter(Number.isFinite)
    if (falls.length < SURELY_FALLS * times.length) return null
    const back = shareOf(this.#many, ({ law }) => returns(change(law), this.#fit.restRad + this.#fit.swingRad))
    return back < SURELY_RETURNS ? null : fromDraws(withHand(falls, this.#test))
  }

  isSafe({ fallS }: AdviceOption): boolean {
    const { leastS, mostS } = this.#test
    return fallS.ci95[0] > (leastS ?? -MARGIN_S) + MARGIN_S && fallS.ci95[1] < mostS - MARGIN_S
  }

  /** Whether any mass anywhere would do for the likeliest board, if only it were known. */
  hasLanding(): boolean {
    return added(this).length > 0
  }

  /** s since the hand was off. */
  #times(draws: readonly BoardDraw[], change: (law: BoardLaw) => BoardLaw): number[] {
    const { massKg, massAtM } = this.#test
    return fallTimes(this.#fit, { massKg, fromPivotM: massAtM - this.halfM }, draws, change)
  }
}

/** Masses to fasten: on the entry half when the board is too fast, on the exit half when it is too slow. */
function added(search: Search): AdviceOption[] {
  const side = search.off((law) => law) > 0 ? 1 : -1
  return PLACES.flatMap((share) => {
    const fromPivotM = Number((side * share * search.halfM).toFixed(2))
    const massKg = solve((m) => -side * search.off((law) => withMass(law, m, fromPivotM)), MOST_KG)
    if (massKg === null || massKg < LEAST_KG) return []
    const round = roundMass(massKg)
    const fallS = search.fall((law) => withMass(law, round, fromPivotM))
    return fallS === null
      ? []
      : [{ doWhat: 'add' as const, massKg: round, atM: alongM(search, fromPivotM), fromM: null, fallS }]
  })
}

/** Known counterweights moved or taken off. */
function changed(search: Search, counterweights: readonly Counterweight[]): AdviceOption[] {
  const isSlow = search.off((law) => law) > 0
  return counterweights.flatMap(({ massKg, atM }) => {
    const from = atM - search.halfM
    const options: AdviceOption[] = []
    const reach = PLACES[PLACES.length - 1]! * search.halfM
    const to = isSlow ? reach : -reach
    const moved = (share: number) => (law: BoardLaw) =>
      withMass(withMass(law, -massKg, from), massKg, from + share * (to - from))
    const share = solve((s) => (isSlow ? -1 : 1) * search.off(moved(s)), 1)
    if (share !== null && Math.abs(share * (to - from)) >= 0.02) {
      const toM = Number((from + share * (to - from)).toFixed(2))
      const fallS = search.fall((law) => withMass(withMass(law, -massKg, from), massKg, toM))
      if (fallS !== null) options.push({ doWhat: 'move', massKg, atM: alongM(search, toM), fromM: atM, fallS })
    }
    const part = solve((m) => (isSlow ? -1 : 1) * search.off((law) => withMass(law, -m, from)), massKg)
    if (part !== null && part >= LEAST_KG) {
      const round = Math.min(massKg, roundMass(part))
      const fallS = search.fall((law) => withMass(law, -round, from))
      if (fallS !== null) options.push({ doWhat: 'take-off', massKg: round, atM, fromM: null, fallS })
    }
    return options
  })
}

/** Where a rising function passes 0 between 0 and `most`; null when it does not. */
function solve(rising: (x: number) => number, most: number): number | null {
  if (!(rising(0) < 0) || !(rising(most) > 0)) return null
  let [low, high] = [0, most]
  for (let round = 0; round < 14; round++) {
    const middle = (low + high) / 2
    if (rising(middle) < 0) low = middle
    else high = middle
  }
  return (low + high) / 2
}

/** To 50 g where that is fine enough, else to 10 g. */
function roundMass(massKg: number): number {
  const step = massKg > 1 ? 0.05 : 0.01
  return Number((Math.round(massKg / step) * step).toFixed(2))
}

function alongM({ halfM }: Search, fromPivotM: number): number {
  return Number((halfM + fromPivotM).toFixed(2))
}

function everyNth<T>(values: readonly T[], count: number): readonly T[] {
  const every = Math.max(1, Math.floor(values.length / count))
  return values.filter((_, k) => k % every === 0)
}

import type { Board } from '../board/board.ts'
import { added, changed, Search } from './advice-search.ts'
import type { AdviceOption, Counterweight } from './advice-option.ts'
import type { BoardFit } from './board-fit.ts'
import type { FallPrediction, WeightTest } from './weight-test.ts'

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

/** So many ways are more than anybody weighs up (ours). */
const MOST_OPTIONS = 4

/**
 * What to fasten where, move or take off so that the board falls in time and still comes back by itself.
 *
 * An option is given only when its whole 95 % interval lies inside the window with a margin, and when all but unlikely
 * boards that agree with the drops come back by themselves after it. One drop alone never names a mass: what it leaves open
 * would be filled in by what planks usually weigh.
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
  if (fit.settled !== 'board') return { options: [], withheld: UNSETTLED[fit.settled](now) }
  const search = new Search(fit, test, board.lengthM / 2)
  const bySpread = (a: AdviceOption, b: AdviceOption) => spread(a) - spread(b)
  // What is fastened already needs nothing new.
  const options = [...changed(search, counterweights).sort(bySpread), ...added(search).sort(bySpread)]
  if (options.length > 0) return { options: options.slice(0, MOST_OPTIONS), withheld: null }
  return { options: [], withheld: WHY_NO_MASS[search.whyNone()] }
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

/** What is missing where the drops do not settle the board. */
const UNSETTLED: Readonly<Record<'nothing' | 'ratios', (now: FallPrediction) => AdviceWithheld>> = {
  nothing: ({ verdict }) => ({
    reason: 'needs-heavier-weight',
    detail: verdict === 'never-moves' ? ONLY_DIRECTION : NEVER_MOVED,
  }),
  ratios: () => ({
    reason: 'needs-second-weight',
    detail:
      'One drop alone cannot tell a heavy board from a light one. Film a second drop with another weight, or weigh the plank.',
  }),
}

const WHY_NO_MASS: Readonly<Record<ReturnType<Search['whyNone']>, AdviceWithheld>> = {
  'fall-unsure': {
    reason: 'too-uncertain',
    detail:
      'The drops do not tell the board well enough to name a mass that is sure to help. Film another drop with a weight that differs more, from the side and with the whole board in the picture.',
  },
  'return-unsure': {
    reason: 'too-uncertain',
    detail:
      'A mass would bring the fall into the window, but the drops do not tell whether the entry end would still come back by itself. Film a drop in which the weight is lifted off and the board comes back, all in one clip.',
  },
  'no-place': {
    reason: 'no-safe-place',
    detail:
      'No mass at any place along the plank brings the fall into the window and lets the entry end come back by itself. Look at axle and friction first.',
  },
}

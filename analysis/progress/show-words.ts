import { isMeasured } from '../words/in-words.ts'
import type { Estimate } from '../estimate.ts'
import {
  countsAfterLanding,
  FINE_BELOW,
  RISK_ABOVE,
  type Lever,
  type ShowCheck,
  type ShowQuestion,
} from './show-check.ts'
import { dayText } from './season.ts'
import { dayInWords } from './sentences.ts'

/** What people read of a show check. */
export interface ShowAnswer {
  readonly sentences: readonly string[]
  /** What it does not take into account. */
  readonly cautions: readonly string[]
}

/** The verdicts as people read them. */
export const SHOW_VERDICTS: Readonly<Record<ShowCheck['verdict'], string>> = {
  'likely-fine': 'Likely fine',
  'at-risk': 'At risk',
  'cannot-tell': 'Cannot tell',
}

const LEVERS: Record<Lever['what'], string> = {
  'hold-longer': 'staying on a tenth of a second longer',
  steadier: 'rides that differ half as much from one another',
  'wait-for-landing': 'waiting for the landing instead of counting',
  'no-pops': 'no more sudden early jumps',
}

/**
 * A show check in plain words.
 *
 * @param dog its name; @param check what came out; @param question what was asked
 * @returns the answer first, then what it rests on and what would change it most
 */
export function showAnswer(dog: string, check: ShowCheck, question: ShowQuestion): ShowAnswer {
  const { restsOn, biggestLever, since } = check
  const board = askedBoard(question)
  const sentences = [
    `${SHOW_VERDICTS[check.verdict]}: ${chanceSentence(check.earlyChance, `${dog} leaves early on ${board}`)}`,
    chanceSentence(
      check.missedDownChance,
      `${dog} misses the down contact${countsAfterLanding(question.rules) ? ' after the landing' : ''}`,
    ),
    `This rests on ${count(restsOn.rides, 'filmed ride')} on ${count(restsOn.boards, 'board')}, ${restsOn.shows === 0 ? 'none' : restsOn.shows} of them at a show${since === null ? '' : `; only rides since ${dayInWords(dayText(since))} count, as it has changed then`}.`,
    ...(question.isByFeel === true && question.fallS !== null
      ? [
          `${dog} has not been on ${board}: from how it feels beside the boards ${dog} knows, it is taken to land in ${question.fallS.toFixed(2)} s${marginText(question.fallSdS)}.`,
        ]
      : []),
    ...(biggestLever === null ? [] : [leverSentence(biggestLever)]),
  ]
  const limits = `"Likely fine" means surely below ${percent(FINE_BELOW)}, "at risk" very likely above ${percent(RISK_ABOVE)}; these limits are ours.`
  return {
    sentences,
    cautions: [
      'Never a promise: a strange place, noise or a base that rocks can change any dog’s ride.',
      ...(restsOn.rides > 0 && restsOn.shows === 0
        ? ['No ride at a show is among them, and dogs often hurry there (common practice).']
        : []),
      limits,
      'The judge and the rule book decide; ask your coach before you change how you train.',
    ],
  }
}

/**
 * The board that is asked about.
 *
 * @param question its board, and its fall, s
 * @returns its name, or "a board that falls in 0.62 s"
 */
export function askedBoard({ board, fallS }: Pick<ShowQuestion, 'board' | 'fallS'>): string {
  return board ?? (fallS === null ? 'this board' : `a board that falls in ${fallS.toFixed(2)} s`)
}

function chanceSentence(chance: Estimate, what: string): string {
  if (chance.kind === 'withheld') return chance.detail
  if (!isMeasured(chance)) return `${what}: not known.`
  const [lo, hi] = chance.ci95
  return `${what} about ${percent(chance.value)} of the time (between ${percent(lo)} and ${percent(hi)}).`
}

function leverSentence({ what, earlyChance }: Lever): string {
  return `What would help most: ${LEVERS[what]}, which would leave a chance of about ${percent(earlyChance)}.`
}

function marginText(sdS: number | undefined): string {
  return sdS === undefined ? '' : ` ± ${(1.96 * sdS).toFixed(2)}`
}

/**
 * A chance as people read it.
 *
 * @param chance 0 to 1
 * @returns `percent(0.123)` is "12 %"
 */
export function percent(chance: number): string {
  return `${Math.round(100 * chance)} %`
}

function count(n: number, thing: string): string {
  return `${n} ${thing}${n === 1 ? '' : 's'}`
}

import type { AdviceOption } from './advice-option.ts'
import { doubtSentence } from '../board-sizes/size-words.ts'
import type { Board } from '../board/board.ts'
import type { Estimate } from '../estimate.ts'
import type { BoardFeel } from './feel.ts'
import { fixed, marginInWords, placeInWords } from '../words/in-words.ts'
import type { BoardCheckFile } from './board-check-file.ts'
import { disagreement, repeatSentences } from './repeat-words.ts'

/**
 * What a board's keeper asks: is it right, and if not, what to do.
 *
 * @param check as `boardcheck.json` has it; @param board its sizes, m
 * @returns sentences, for the page and the command line
 */
export function boardAnswers(check: BoardCheckFile, board: Board): readonly string[] {
  const { advice, adviceWithheld } = check
  const asks = advice.length > 1 ? ['Any one of these brings it into the window:'] : []
  return [
    fallSentence(check),
    verdictSentence(check),
    ...togetherSentences(check),
    ...asks,
    ...advice.map((option) => adviceSentence(option, board.lengthM)),
    ...(adviceWithheld === null ? [] : [`No advice yet: ${adviceWithheld.detail}`]),
    ...(check.sizes?.doubts ?? []).map((doubt) => doubtSentence(doubt, board.lengthM)),
  ]
}

/**
 * What several drops done alike say, and whether they agree about the window.
 *
 * @param check with its repeated drops
 * @returns sentences; none where no two drops were done alike
 */
export function togetherSentences(check: Pick<BoardCheckFile, 'repeats' | 'test'>): readonly string[] {
  const apart = disagreement(check)
  return [
    ...check.repeats.flatMap((repeated) => repeatSentences(repeated, check.test.timedFrom)),
    ...(apart === null ? [] : [apart]),
  ]
}

/**
 * What the feel of a board rests on.
 *
 * @param restsOn how many drops and rides
 * @returns for instance "1 drop test and 3 rides of weighed dogs"
 */
export function feelBasis({ drops, rides }: BoardFeel['restsOn']): string {
  const parts = [
    ...(drops === 0 ? [] : [`${drops} drop test${drops === 1 ? '' : 's'}`]),
    ...(rides === 0 ? [] : [rides === 1 ? '1 ride of a weighed dog' : `${rides} rides of weighed dogs`]),
  ]
  return parts.join(' and ')
}

/**
 * The feel of a board in a sentence.
 *
 * @param feel with its figure, s
 * @returns null where nothing tells it
 */
export function feelSentence({ feelS, restsOn }: Pick<BoardFeel, 'feelS' | 'restsOn'>): string | null {
  if (feelS.kind !== 'measured') return null
  return `Feel of this board, under 10 kg: ${fixed(feelS.value, 2)} s ${marginInWords(feelS, 2)}, from ${feelBasis(restsOn)}.`
}

/**
 * How long the board takes in the rule set's test.
 *
 * @param check with `fallS`, s, as the rule set's clock runs
 * @returns a sentence
 */
export function fallSentence(check: Pick<BoardCheckFile, 'fallS' | 'test'>): string {
  const { fallS, test } = check
  const after = test.timedFrom === 'placed' ? 'after the weight is placed' : 'after the weight is let go'
  const under = `Under ${fixed(test.massKg, 2)} kg the board`
  switch (fallS.kind) {
    case 'measured':
      return `${under} lands ${fixed(fallS.value, 2)} s ${marginInWords(fallS, 2)} ${after}.`
    case 'atLeast':
      return `${under} takes at least ${fixed(fallS.value, 2)} s ${after}, if it moves at all.`
    case 'withheld':
      return fallS.reason === 'never-tipped' ? `${under} does not move.` : fallS.detail
  }
}

/**
 * What the fall means by the rule set.
 *
 * @param check with the verdict and the window in which the board must land
 * @returns a sentence
 */
export function verdictSentence(check: Pick<BoardCheckFile, 'verdict' | 'test' | 'rules'>): string {
  const { verdict, test, rules } = check
  const { leastS, mostS } = test
  const window = leastS === null ? `less than ${fixed(mostS, 0)} s` : `${fixed(leastS, 0)} to ${fixed(mostS, 0)} s`
  const asked = `${rules.name} asks for ${window}`
  switch (verdict) {
    case 'within':
      return `That is within the window: ${asked}.`
    case 'too-fast':
      return `That is too fast: ${asked}.`
    case 'too-slow':
      return `That is too slow: ${asked}.`
    case 'never-moves':
      return `A board that does not move does not pass: ${asked}.`
    case 'too-close':
      return `That is too close to call: ${asked}.`
  }
}

/**
 * One way to set the board right.
 *
 * @param option masses in kg, places in m along the plank; @param lengthM of the plank
 * @returns a sentence with the time that the board should then take
 */
export function adviceSentence(option: AdviceOption, lengthM: number): string {
  const { doWhat, massKg, atM, fromM, fallS } = option
  const mass = `${fixed(massKg, 2)} kg`
  const place = placeInWords(atM, lengthM)
  const then = `it should then land after ${fixed(fallS.value, 2)} s ${marginInWords(fallS, 2)}.`
  switch (doWhat) {
    case 'add':
      return `Fasten ${mass} ${place}: ${then}`
    case 'move':
      return `Move the ${mass} from ${placeInWords(fromM ?? atM, lengthM)} to ${place}: ${then}`
    case 'take-off':
      return `Take off ${mass} ${place}: ${then}`
  }
}

/**
 * A figure with its 95 % interval, or the reason why there is none.
 *
 * @param estimate in the unit that is shown; @param decimals of the figure; @param unit its sign
 * @returns words
 * @example figureText(withheld('never-tipped', 'The board did not move.'), 2, 's') // 'The board did not move.'
 */
export function figureText(estimate: Estimate, decimals: number, unit: string): string {
  switch (estimate.kind) {
    case 'measured': {
      const [low, high] = estimate.ci95
      return `${fixed(estimate.value, decimals)} ${unit} (${fixed(low, decimals)} to ${fixed(high, decimals)})`
    }
    case 'atLeast':
      return `at least ${fixed(estimate.value, decimals)} ${unit}`
    case 'withheld':
      return estimate.detail
  }
}

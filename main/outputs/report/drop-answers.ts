import type { Drop } from '../../../analysis/drop/drop-test.ts'
import type { Estimate } from '../../../analysis/estimate.ts'
import type { Answer } from '../../../analysis/words/answers.ts'
import { fixed, marginInWords } from '../../../analysis/words/in-words.ts'

/** The clip of the drop at `k`, and which of its drops it is where there are several. */
export function dropName(drops: readonly Drop[], k: number): string {
  const { clip } = drops[k]!
  const same = [...drops.keys()].filter((n) => drops[n]!.clip === clip)
  return same.length === 1 ? clip : `${clip}, drop ${same.indexOf(k) + 1} of ${same.length}`
}

/** What a board's keeper asks of a drop: did it move, and how long did it take to land. */
export function dropAnswers(drop: Drop): readonly Answer[] {
  if (drop.moved === false) {
    return [{ ...answer('Under the weight the board', 'did not move'), more: 'Its exit end sank by less than 50 mm.' }]
  }
  const { fallFromPlacedS, fallFromReleasedS } = drop.measures
  return [
    fallAnswer('From placing the weight to the landing it took', fallFromPlacedS),
    fallAnswer('From letting go to the landing it took', fallFromReleasedS),
  ]
}

function fallAnswer(lead: string, fall: Estimate): Answer {
  if (fall.kind === 'withheld') return { ...answer(`${lead} a time that was`, 'not measured'), more: fall.detail }
  const figure = `${fall.kind === 'atLeast' ? 'at least ' : ''}${fixed(fall.value, 2)} s`
  return { ...answer(lead, figure), margin: fall.kind === 'measured' ? marginInWords(fall, 2) : null, durationS: fall }
}

function answer(lead: string, figure: string): Answer {
  return { lead, figure, margin: null, tail: null, more: null, durationS: null }
}

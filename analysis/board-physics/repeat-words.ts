import { fixed, marginInWords } from '../words/in-words.ts'
import type { BoardCheck } from './board-check.ts'
import { isAlike, type RepeatedDrops } from './repeated-drops.ts'

/**
 * What drops that were done alike say together.
 *
 * @param repeated of one weight and place, times in s
 * @param clock on which they are told; both if absent
 * @returns a sentence for each clock that two or more of them were timed on: from placing, from letting go
 */
export function repeatSentences(repeated: RepeatedDrops, clock?: 'placed' | 'released'): readonly string[] {
  const clocks = [
    ['placed', 'placing the weight', repeated.fallFromPlacedS, repeated.spreadFromPlacedS],
    ['released', 'letting go', repeated.fallFromReleasedS, repeated.spreadFromReleasedS],
  ] as const
  return clocks.flatMap(([name, from, mean, spread]) =>
    (clock ?? name) !== name || mean.kind !== 'measured' || spread === null
      ? []
      : [
          `${repeated.drops} drops with ${fixed(repeated.massKg, 2)} kg: from ${from} to the landing ${fixed(mean.value, 2)} s ` +
            `${marginInWords(mean, 2)} on average, the single drops between ${fixed(spread[0], 2)} and ${fixed(spread[1], 2)} s.`,
        ],
  )
}

/**
 * What the drops with the rule set's own weight mean for its window, where they do not agree.
 *
 * @param check with the repeated drops, s, and the test's window
 * @returns a sentence; null where the drops lie on one side of every limit and no further apart than the window is wide
 */
export function disagreement(check: Pick<BoardCheck, 'repeats' | 'test'>): string | null {
  const { test } = check
  const own = check.repeats.find((repeated) => isAlike(repeated, test))
  const spread = test.timedFrom === 'placed' ? own?.spreadFromPlacedS : own?.spreadFromReleasedS
  if (spread === undefined || spread === null) return null
  const [leastS, mostS] = spread
  const windowS = test.mostS - (test.leastS ?? 0)
  const sides = [test.leastS ?? 0, test.mostS].filter((limitS) => leastS < limitS && mostS > limitS)
  if (mostS - leastS > windowS) {
    return `The single drops differ by ${fixed(mostS - leastS, 2)} s, more than the whole window: see whether axle or base holds the board, then test again.`
  }
  return sides.length === 0
    ? null
    : 'Some of the single drops are inside the window and some are not: see whether axle or base holds the board, and test again.'
}

import { fixed, marginInWords } from '../words/in-words.ts'
import type { BuildPart } from '../rules/build-check.ts'
import type { BoardSizes, SizeDoubt } from './board-sizes.ts'

/**
 * What the pictures contradict, and what to do.
 *
 * @param doubt sizes in m
 * @param lengthM the plank's length as entered, m
 * @returns a sentence or two
 */
export function doubtSentence({ what, enteredM, seenM }: SizeDoubt, lengthM: number): string {
  const seen = `${fixed(seenM.value, 3)} m ${marginInWords(seenM, 3)}`
  const beside = `beside a plank of ${fixed(lengthM, 2)} m`
  switch (what) {
    case 'contactM':
      return `The contact zones look ${seen} long ${beside}, but ${fixed(enteredM, 3)} m is entered. Measure the zones and the plank again by tape.`
    case 'pivotHeightM':
      return `The board swings as if its pivot were ${seen} high ${beside}, but ${fixed(enteredM, 3)} m is entered. Measure the height and the plank again by tape, and see whether the ground is even.`
    case 'zones-differ':
      return `The zones do not look alike: the up contact ${fixed(enteredM, 3)} m, the down contact ${seen}. Measure both by tape.`
  }
}

/**
 * A size as the pictures show it.
 *
 * @param sizes m
 * @param part which
 * @returns "0.921 m ± 0.016"; "not seen" for a size that no picture tells
 */
export function seenSizeText(sizes: BoardSizes, part: BuildPart): string {
  const seen = part === 'contactM' || part === 'pivotHeightM' ? sizes[part] : null
  return seen === null ? 'not seen' : `${fixed(seen.value, 3)} m ${marginInWords(seen, 3)}`
}

/**
 * What pictures tell of a board beside its zones and its height.
 *
 * @param sizes angles in deg
 * @returns sentences: the angles with their intervals, and what no picture tells
 */
export function sizeNotes({ pictures, restAngleDeg, swingDeg, lengthM, levelDeg }: BoardSizes): readonly string[] {
  const from = pictures === 1 ? 'one clip' : `${pictures} clips`
  const rest = `${fixed(Math.abs(restAngleDeg.value), 1)}° ${marginInWords(restAngleDeg, 1)}`
  const swing =
    swingDeg.kind === 'measured'
      ? `, and swings by ${fixed(swingDeg.value, 1)}° ${marginInWords(swingDeg, 1)} until the exit end is down`
      : ''
  return [
    `From the marks of ${from}: at rest the plank slopes by ${rest}${swing}.`,
    ...[lengthM, levelDeg].flatMap((estimate) => (estimate.kind === 'withheld' ? [estimate.detail] : [])),
  ]
}

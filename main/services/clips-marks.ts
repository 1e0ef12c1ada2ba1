import { SHORTEST_PLANK_PX } from '../../analysis/board/marks-limits.ts'
import type { GroundedMarks, Marks, RestMarks } from '../../analysis/board/marks.ts'
import type { ImagePx } from '../../analysis/geometry/points.ts'
import type { ClipSetup, MarksDraft } from '../contract/clips.ts'
import { problem, success, type Outcome } from '../contract/outcome.ts'

export const NO_MARKS: MarksDraft = { rest: null, grounded: null, neverLands: false }

/** The marks to measure with, or the sentence that says what is still missing or does not go together. */
export function marksOf(
  draft: MarksDraft,
  clip: { readonly fileName: string; readonly travel: ClipSetup['travel'] },
): Outcome<Marks> {
  const rest = restOf(draft)
  if (!rest.ok) return rest
  if (clip.travel !== null && travelOf(rest.value) !== clip.travel) {
    const side = clip.travel === 'to-right' ? 'right' : 'left'
    return problem(
      'not-ready',
      `The dog is said to cross to the ${side}, but the marked exit end lies on the other side: swap the ends, or change the direction.`,
    )
  }
  if (draft.neverLands) return success({ clip: clip.fileName, rest: rest.value })
  const grounded = groundedOf(draft, rest.value.frame)
  if (!grounded.ok) return grounded
  return success({ clip: clip.fileName, rest: rest.value, grounded: grounded.value })
}

/** Which way the dog crosses, by where the ends are. */
export function travelOf({ entryEnd, exitEnd }: Pick<RestMarks, 'entryEnd' | 'exitEnd'>): 'to-right' | 'to-left' {
  return exitEnd.xPx > entryEnd.xPx ? 'to-right' : 'to-left'
}

/** Marks of a file as the window has them. */
export function draftOf(marks: Marks): MarksDraft {
  return { rest: marks.rest, grounded: marks.grounded ?? null, neverLands: marks.grounded === undefined }
}

/** What a draft breaks in a clip of so many frames; null when nothing. */
export function frameFault(draft: MarksDraft, frameCount: number): string | null {
  for (const one of [draft.rest, draft.grounded]) {
    if (one !== null && one.frame >= frameCount)
      return `The clip has ${frameCount} frames, numbered from 0: there is no ${one.frame} to mark.`
  }
  if (draft.rest !== null && draft.rest.frame === draft.grounded?.frame)
    return 'The resting and the landed board cannot be marked in the same frame: choose another frame for one of them.'
  return null
}

function restOf({ rest }: MarksDraft): Outcome<RestMarks> {
  const where = 'in a frame with the board at rest'
  if (rest === null) return missing(['the two ends', 'the pivot', 'the two zone borders'], where)
  const { entryEnd, exitEnd, pivot, upContactEdge, downContactEdge } = rest
  if (entryEnd === null || exitEnd === null || pivot === null || upContactEdge === null || downContactEdge === null) {
    const names: readonly [ImagePx | null, string][] = [
      [entryEnd, 'the entry end'],
      [exitEnd, 'the exit end'],
      [pivot, 'the pivot'],
      [upContactEdge, 'the inner border of the up contact'],
      [downContactEdge, 'the inner border of the down contact'],
    ]
    return missing(absent(names), where)
  }
  const tooClose = closeEnds(entryEnd, exitEnd)
  return tooClose ?? success({ frame: rest.frame, entryEnd, exitEnd, pivot, upContactEdge, downContactEdge })
}

function groundedOf({ grounded }: MarksDraft, restFrame: number): Outcome<GroundedMarks> {
  const where = 'in a frame with the exit end on the ground, or say that it never lands in this clip'
  if (grounded === null) return missing(['both ends'], where)
  const { frame, entryEnd, exitEnd } = grounded
  if (entryEnd === null || exitEnd === null) {
    const names: readonly [ImagePx | null, string][] = [
      [entryEnd, 'the entry end'],
      [exitEnd, 'the exit end'],
    ]
    return missing(absent(names), where)
  }
  if (frame === restFrame)
    return problem('not-ready', 'The resting and the landed board are marked in the same frame: choose another one.')
  return closeEnds(entryEnd, exitEnd) ?? success({ frame, entryEnd, exitEnd })
}

function absent(names: readonly (readonly [ImagePx | null, string])[]): string[] {
  return names.filter(([point]) => point === null).map(([, name]) => name)
}

function missing(names: readonly string[], where: string): Outcome<never> {
  const last = names.at(-1) ?? ''
  const list = names.length > 1 ? `${names.slice(0, -1).join(', ')} and ${last}` : last
  return problem('not-ready', `Mark ${list} ${where}.`)
}

function closeEnds(a: ImagePx, b: ImagePx): Outcome<never> | null {
  const apartPx = Math.hypot(a.xPx - b.xPx, a.yPx - b.yPx)
  if (apartPx >= SHORTEST_PLANK_PX) return null
  return problem(
    'not-ready',
    `The two ends are marked ${apartPx.toFixed(0)} px apart, too close to measure a plank: mark one at each end.`,
  )
}

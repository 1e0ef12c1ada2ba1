import type { GroundedMarks, Marks, RestMarks } from '../board/marks.ts'
import { SHORTEST_PLANK_PX } from '../board/marks-limits.ts'
import type { ImagePx } from '../geometry/points.ts'
import { listInWords } from '../words/in-words.ts'

/** The marks of a clip as they are clicked: any may still be missing. Points in full-resolution image px. */
export interface MarksDraft {
  readonly rest: Drafted<RestMarks> | null
  readonly grounded: Drafted<GroundedMarks> | null
  /** True once the handler has said that the exit end never lands in this clip. */
  readonly neverLands: boolean
}

type Drafted<Of extends { readonly frame: number }> = { readonly frame: number } & {
  readonly [Point in Exclude<keyof Of, 'frame'>]: ImagePx | null
}

export const NO_MARKS: MarksDraft = { rest: null, grounded: null, neverLands: false }

/** Which way the dog crosses in the picture. */
export type Travel = 'to-right' | 'to-left'

/** Marks to measure with, or a sentence that says what is still missing or does not go together. */
export type ReadyMarks = { readonly ok: true; readonly value: Marks } | { readonly ok: false; readonly message: string }

/**
 * The marks of a whole draft.
 *
 * @param draft as it was clicked, full-resolution image px
 * @param clip its file name, and the direction that was said; null: not said
 * @returns the marks, without a landing where it was said that there is none
 */
export function marksOf(
  draft: MarksDraft,
  clip: { readonly fileName: string; readonly travel: Travel | null },
): ReadyMarks {
  const rest = wholeRest(draft.rest)
  if (rest === null) return notReady(`Mark ${lackingAtRest(draft.rest)} in a frame with the board at rest.`)
  const crooked = endsTooClose(rest)
  if (crooked !== null) return crooked
  if (clip.travel !== null && travelOf(rest) !== clip.travel) {
    const side = clip.travel === 'to-right' ? 'right' : 'left'
    return notReady(
      `The dog is said to cross to the ${side}, but the marked exit end lies on the other side: swap the ends, or change the direction.`,
    )
  }
  if (draft.neverLands) return { ok: true, value: { clip: clip.fileName, rest } }
  const grounded = wholeGrounded(draft.grounded)
  if (grounded === null) {
    const where = 'in a frame with the exit end on the ground, or say that it never lands in this clip'
    return notReady(`Mark ${lackingLanded(draft.grounded)} ${where}.`)
  }
  if (grounded.frame === rest.frame)
    return notReady('The resting and the landed board are marked in the same frame: choose another one.')
  return endsTooClose(grounded) ?? { ok: true, value: { clip: clip.fileName, rest, grounded } }
}

/** True when nothing is missing in a `draft`: a clip can be measured with it. */
export function isWhole(draft: MarksDraft): boolean {
  return marksOf(draft, { fileName: '', travel: null }).ok
}

/** The marks of the board at rest in a draft's `rest`; null while a point is missing. */
export function wholeRest(rest: MarksDraft['rest']): RestMarks | null {
  if (rest === null) return null
  const { frame, entryEnd, exitEnd, pivot, upContactEdge, downContactEdge } = rest
  if (entryEnd === null || exitEnd === null || pivot === null) return null
  if (upContactEdge === null || downContactEdge === null) return null
  return { frame, entryEnd, exitEnd, pivot, upContactEdge, downContactEdge }
}

/** The marks of the landed board in a draft's `grounded`; null while an end is missing. */
export function wholeGrounded(grounded: MarksDraft['grounded']): GroundedMarks | null {
  if (grounded === null || grounded.entryEnd === null || grounded.exitEnd === null) return null
  return { frame: grounded.frame, entryEnd: grounded.entryEnd, exitEnd: grounded.exitEnd }
}

/** Which way the dog crosses, by where the marked `ends` are. */
export function travelOf(ends: Pick<RestMarks, 'entryEnd' | 'exitEnd'>): Travel {
  return ends.exitEnd.xPx > ends.entryEnd.xPx ? 'to-right' : 'to-left'
}

/** Which way the dog crosses by the ends of a draft (`rest`); null while one is missing. */
export function markedTravel({ rest }: Pick<MarksDraft, 'rest'>): Travel | null {
  if (rest === null || rest.entryEnd === null || rest.exitEnd === null) return null
  return travelOf({ entryEnd: rest.entryEnd, exitEnd: rest.exitEnd })
}

/** Whole `marks` as a draft. */
export function draftOf(marks: Marks): MarksDraft {
  return { rest: marks.rest, grounded: marks.grounded ?? null, neverLands: marks.grounded === undefined }
}

/**
 * What the frames of a draft break.
 *
 * @param draft as it was clicked
 * @param frameCount frames of the clip
 * @returns a sentence; null when nothing is wrong
 */
export function frameFault(draft: MarksDraft, frameCount: number): string | null {
  for (const one of [draft.rest, draft.grounded]) {
    if (one !== null && one.frame >= frameCount)
      return `The clip has ${frameCount} frames, numbered from 0: there is no ${one.frame} to mark.`
  }
  if (draft.rest !== null && draft.rest.frame === draft.grounded?.frame)
    return 'The resting and the landed board cannot be marked in the same frame: choose another frame for one of them.'
  return null
}

function notReady(message: string): Extract<ReadyMarks, { ok: false }> {
  return { ok: false, message }
}

function lackingAtRest(rest: MarksDraft['rest']): string {
  if (rest === null) return listInWords(['the two ends', 'the pivot', 'the two zone borders'])
  return absent([
    [rest.entryEnd, 'the entry end'],
    [rest.exitEnd, 'the exit end'],
    [rest.pivot, 'the pivot'],
    [rest.upContactEdge, 'the inner border of the up contact'],
    [rest.downContactEdge, 'the inner border of the down contact'],
  ])
}

function lackingLanded(grounded: MarksDraft['grounded']): string {
  if (grounded === null) return 'both ends'
  return absent([
    [grounded.entryEnd, 'the entry end'],
    [grounded.exitEnd, 'the exit end'],
  ])
}

function absent(names: readonly (readonly [ImagePx | null, string])[]): string {
  return listInWords(names.filter(([point]) => point === null).map(([, name]) => name))
}

function endsTooClose({ entryEnd, exitEnd }: Pick<RestMarks, 'entryEnd' | 'exitEnd'>): ReadyMarks | null {
  const apartPx = Math.hypot(entryEnd.xPx - exitEnd.xPx, entryEnd.yPx - exitEnd.yPx)
  if (apartPx >= SHORTEST_PLANK_PX) return null
  return notReady(
    `The two ends are marked ${apartPx.toFixed(0)} px apart, too close to measure a plank: mark one at each end.`,
  )
}

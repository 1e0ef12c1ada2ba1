import type { Marks } from '../../analysis/board/marks.ts'
import { wholeGrounded, wholeRest } from '../../analysis/marking/marks-draft.ts'
import type { MarksDraft } from '../../main/contract/clips.ts'

/** What the marks allow, and what they lack for more. */
export type Readiness =
  /** Not enough for a fit. */
  | { readonly kind: 'incomplete'; readonly lacks: string }
  /** Enough to draw the fit, not yet to measure. */
  | { readonly kind: 'fits'; readonly marks: Marks; readonly lacks: string }
  | { readonly kind: 'complete'; readonly marks: Marks }

/** How far marks have come. A landing that is only half marked is left out of the fit. */
export function readinessOf(draft: MarksDraft, fileName: string): Readiness {
  const rest = wholeRest(draft.rest)
  if (rest === null)
    return {
      kind: 'incomplete',
      lacks: `Click the ${hasPoint(draft.rest) ? 'missing' : 'five'} points in the picture, or press Enter on each and move it with the arrow keys.`,
    }
  if (draft.neverLands) return { kind: 'complete', marks: { clip: fileName, rest } }
  const grounded = wholeGrounded(draft.grounded)
  if (grounded !== null) return { kind: 'complete', marks: { clip: fileName, rest, grounded } }
  return {
    kind: 'fits',
    marks: { clip: fileName, rest },
    lacks: 'Mark both ends with the exit end down, or say that it never lands.',
  }
}

function hasPoint(rest: MarksDraft['rest']): boolean {
  return rest !== null && Object.values(rest).some((one) => typeof one === 'object' && one !== null)
}

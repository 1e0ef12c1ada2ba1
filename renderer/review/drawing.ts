import type { Stroke } from '../../analysis/review/review-item.ts'

/** What is being drawn on one frame and not kept yet. */
export interface Drawing {
  /** The frame's moment, s of the ride's real time. */
  readonly atS: number
  /** One at least. */
  readonly strokes: readonly Stroke[]
}

/** What a comment is about: the moment that is shown, a span, or the whole ride. */
export type CommentPlace = 'moment' | 'span' | 'ride'

/** With one more stroke on the frame at `atS`; a drawing on another frame stays as it is. */
export function withStroke(drawing: Drawing | null, stroke: Stroke, atS: number): Drawing {
  if (drawing === null) return { atS, strokes: [stroke] }
  return drawing.atS === atS ? { atS, strokes: [...drawing.strokes, stroke] } : drawing
}

export function withoutLastStroke({ atS, strokes }: Drawing): Drawing | null {
  return strokes.length < 2 ? null : { atS, strokes: strokes.slice(0, -1) }
}

/**
 * When in the ride a comment belongs. A drawing belongs to the frame that it was drawn on, whatever is shown by now.
 *
 * @param shownS the moment that is shown, s
 * @param fromS where the span began, s
 */
export function commentTimes(
  place: CommentPlace,
  shownS: number,
  fromS: number | null,
  drawing: Drawing | null,
): { readonly atS: number | null; readonly toS: number | null } {
  const drawnS = drawing?.atS ?? null
  if (place === 'span' && fromS !== null) {
    const all = drawnS === null ? [fromS, shownS] : [fromS, shownS, drawnS]
    return { atS: Math.min(...all), toS: Math.max(...all) }
  }
  if (place === 'ride') return { atS: drawnS, toS: null }
  return { atS: drawnS ?? shownS, toS: null }
}

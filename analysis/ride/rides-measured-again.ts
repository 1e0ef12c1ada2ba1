/** First and last frame, both included, by their index in the clip. */
export interface FrameSpan {
  readonly fromFrame: number
  readonly toFrame: number
}

/** Which rides of a clip take the place of which, by their position in the lists that were given. */
export interface Succession {
  /** One element a new ride: the old one whose place it takes; null where it is new. */
  readonly takesPlaceOf: readonly (number | null)[]
  /** Old rides that are no more: the stretch that was measured holds all of them, and no new ride takes their place. */
  readonly gone: readonly number[]
}

/**
 * Pairs rides that were measured again with those of before. A new ride takes the place of the old one that shares most
 * frames with it, else of one whose frames are not known. An old ride that reaches out of the measured stretch stays,
 * since what lies out there was not looked at.
 *
 * @param before frames of each old ride; null where they are not known
 * @param now frames of each new ride, in the order of the clip
 * @param stretch frames that were measured; null for the whole clip
 * @returns positions in `before`, one element a new ride, and those of the rides that are gone
 */
export function ridesMeasuredAgain(
  before: readonly (FrameSpan | null)[],
  now: readonly FrameSpan[],
  stretch: FrameSpan | null,
): Succession {
  const left = new Set(before.keys())
  const takesPlaceOf = now.map((ride) => {
    const old = likeliest(before, left, ride)
    if (old !== null) left.delete(old)
    return old
  })
  return { takesPlaceOf, gone: [...left].filter((old) => isInside(before[old] ?? null, stretch)) }
}

function likeliest(before: readonly (FrameSpan | null)[], left: ReadonlySet<number>, ride: FrameSpan): number | null {
  let best: number | null = null
  let most = 0
  for (const old of left) {
    const span = before[old] ?? null
    const shared = span === null ? 0.5 : sharedFrames(span, ride)
    if (shared > most) [best, most] = [old, shared]
  }
  return best
}

function sharedFrames(a: FrameSpan, b: FrameSpan): number {
  return Math.min(a.toFrame, b.toFrame) - Math.max(a.fromFrame, b.fromFrame) + 1
}

function isInside(span: FrameSpan | null, stretch: FrameSpan | null): boolean {
  if (stretch === null) return true
  return span !== null && span.fromFrame >= stretch.fromFrame && span.toFrame <= stretch.toFrame
}

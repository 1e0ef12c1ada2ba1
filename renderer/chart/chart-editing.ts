import type { CorrectableEvent, FootfallOrigin, HandFootfall } from '../../analysis/ride/corrections.ts'

/** What is chosen on a chart to be looked at or set by hand. */
export type Selection =
  | { readonly kind: 'event'; readonly event: CorrectableEvent }
  | { readonly kind: 'paw'; readonly origin: FootfallOrigin }

/** What makes a chart one that can be corrected. Times come as they are pointed at; whoever listens snaps them to frames. */
export interface ChartEditing {
  readonly selection: Selection | null
  readonly onSelect: (selection: Selection | null) => void
  /** Where each of the ride's footfalls comes from. */
  readonly origins: readonly FootfallOrigin[]
  readonly isByHand: (event: CorrectableEvent) => boolean
  readonly onMoveEvent: (event: CorrectableEvent, atS: number) => void
  readonly onStepEvent: (event: CorrectableEvent, step: EventStep) => void
  readonly onDropEvent: (event: CorrectableEvent) => void
  readonly onChangePaw: (origin: FootfallOrigin, footfall: HandFootfall) => void
  /** A drag was let go: the next one is a step of its own. */
  readonly onRest: () => void
}

export type EventStep =
  { readonly kind: 'frames'; readonly count: number } | { readonly kind: 's'; readonly byS: number }

export function originKey(origin: FootfallOrigin): string {
  return `${origin.kind} ${origin.index}`
}

export function isSamePaw(selection: Selection | null, origin: FootfallOrigin): boolean {
  return selection?.kind === 'paw' && originKey(selection.origin) === originKey(origin)
}

import type { Estimate } from '../estimate.ts'
import type { Ride } from '../ride/ride.ts'

/** Values that share one reason for not being given. */
export interface WithheldGroup {
  /** The values' names, for a handler. */
  readonly names: readonly string[]
  /** Why, and what to do about it: a sentence. */
  readonly detail: string
}

/** What a `ride` could not tell, grouped by reason, in the order in which a handler asks. */
export function withheldGroups(ride: Ride): readonly WithheldGroup[] {
  const { events, measures, zones } = ride
  return groupedByDetail([
    ['when the first paw got on', events.firstOn],
    ['when the board began to tip', events.tipStart],
    ['when the board landed', events.grounded],
    ['when the dog left', events.left],
    ['the lead paw at the tip', measures.leadPawAtTipM],
    ['the body at the tip', measures.bodyAtTipM],
    ['the fall', measures.dropTimeS],
    ['the hold', measures.holdBeforeGroundS],
    ['the stay after the landing', measures.stayAfterGroundS],
    ['the up contact', zones.up.clearanceM],
    ['the down contact', zones.down.clearanceM],
    ['the speed on the approach', measures.entrySpeedMps],
    ...(measures.entryAngleDeg === undefined ? [] : [['the angle of entry', measures.entryAngleDeg] as const]),
    ...(measures.entryOffsetM === undefined ? [] : [['the line of entry', measures.entryOffsetM] as const]),
    ['the speed of the climb', measures.climbSpeedMps],
    ...(measures.strideM === undefined ? [] : [['the stride', measures.strideM] as const]),
    ['the bounce', measures.bounceM],
    ...(measures.baseShiftM === undefined ? [] : [['the shift of the base', measures.baseShiftM] as const]),
    ...(measures.baseLiftM === undefined ? [] : [['the lift of the base', measures.baseLiftM] as const]),
    ['the sound of the landing', events.bangHeard],
  ])
}

/** The groups of the `named` estimates that are withheld for the same reason; the others are left out. */
export function groupedByDetail(named: readonly (readonly [string, Estimate])[]): readonly WithheldGroup[] {
  const byDetail = new Map<string, string[]>()
  for (const [name, estimate] of named) {
    if (estimate.kind !== 'withheld') continue
    byDetail.set(estimate.detail, [...(byDetail.get(estimate.detail) ?? []), name])
  }
  return [...byDetail].map(([detail, names]) => ({ names, detail }))
}

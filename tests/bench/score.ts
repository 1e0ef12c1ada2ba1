import type { Estimate } from '../../analysis/estimate.ts'
import type { Ride } from '../../analysis/ride/ride.ts'

/** What a truth file says of a ride; see sample-clips. */
export interface RideTruth {
  readonly camera: { readonly fps: number }
  readonly slowMotionFactor?: number
  readonly events: Readonly<Record<string, number | boolean | null>>
  readonly zones?: { readonly up: { readonly touched: boolean }; readonly down: { readonly touched: boolean } } | null
  readonly frames: { readonly ptsS: readonly number[]; readonly angleDeg: readonly number[] }
}

/** One measured value against its truth. */
export interface Compared {
  readonly state: 'measured' | 'withheld' | 'invented' | 'none'
  readonly error?: number
  readonly covered?: boolean
}

/** An estimate against the true value; null when the thing did not happen. */
export function compare(estimate: Estimate, truth: number | boolean | null | undefined): Compared {
  const got = estimate.kind === 'measured' ? estimate : null
  if (typeof truth !== 'number') return { state: got === null ? 'none' : 'invented' }
  if (got === null) return { state: 'withheld' }
  return {
    state: 'measured',
    error: got.value - truth,
    covered: got.ci95[0] <= truth && truth <= got.ci95[1],
  }
}

/** The measures that the table shows, in order. */
export function compareRide(ride: Ride, truth: RideTruth): Readonly<Record<string, Compared>> {
  const { events } = truth
  return {
    tip: compare(ride.events.tipStart, events['tipStartS']),
    landing: compare(ride.events.grounded, events['groundedS']),
    left: compare(ride.events.left, events['leftPlankS']),
    hold: compare(ride.measures.holdBeforeGroundS, events['holdBeforeGroundS']),
    paw: compare(ride.measures.leadPawAtTipM, events['leadPawAtTipM']),
  }
}

/** The leaving verdict that the truth calls for. */
export function trueLeaving(events: RideTruth['events']): string {
  const number = (name: string) => (typeof events[name] === 'number' ? events[name] : null)
  const left = number('leftPlankS')
  const tip = number('tipStartS')
  const grounded = number('groundedS')
  if (tip === null || (left !== null && left < tip)) return 'before-tip'
  if (grounded === null) return left === null ? 'not-seen' : 'before-ground'
  return left !== null && left < grounded ? 'before-ground' : 'after-ground'
}

/** The share of a curve's frames whose error stays below this, deg. */
export function angleError95(ride: Ride, truth: RideTruth): number | null {
  const errors: number[] = []
  ride.frames.ptsS.forEach((t, k) => {
    const angle = ride.frames.boardAngleDeg[k]
    const i = truth.frames.ptsS.findIndex((s) => Math.abs(s - t) < 1e-3)
    const want = truth.frames.angleDeg[i]
    if (angle !== null && angle !== undefined && want !== undefined) errors.push(Math.abs(angle - want))
  })
  errors.sort((a, b) => a - b)
  return errors[Math.floor(0.95 * (errors.length - 1))] ?? null
}

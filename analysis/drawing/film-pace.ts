import type { Ride } from '../ride/ride.ts'

/** Around which a film goes slower, s of real time. */
export type SlowPassage = readonly [fromS: number, toS: number]

/** How much longer a slow passage takes than in truth. */
const SLOWED = 4
const BEFORE_TIP_S = 0.15
const AFTER_TIP_S = 0.15
const BEFORE_LANDING_S = 0.2
const AFTER_LANDING_S = 0.4

/**
 * The passages of a ride that are worth a slow look: around tip and landing, joined where they touch.
 *
 * @param events s of real time
 * @returns none where neither was measured
 */
export function slowPassages({
  tipStart,
  grounded,
}: Pick<Ride['events'], 'tipStart' | 'grounded'>): readonly SlowPassage[] {
  const tip: readonly SlowPassage[] =
    tipStart.kind === 'measured' ? [[tipStart.value - BEFORE_TIP_S, tipStart.value + AFTER_TIP_S]] : []
  const landing: readonly SlowPassage[] =
    grounded.kind === 'measured' ? [[grounded.value - BEFORE_LANDING_S, grounded.value + AFTER_LANDING_S]] : []
  const [first, second] = [...tip, ...landing]
  if (first === undefined) return []
  if (second === undefined) return [first]
  return first[1] >= second[0] ? [[first[0], Math.max(first[1], second[1])]] : [first, second]
}

/**
 * When a moment of the ride is shown in a film.
 *
 * @param atS s of real time, not before `fromS`
 * @param fromS where the film begins
 * @param slow passages that take {@link SLOWED} times as long, in order, apart from each other
 * @returns s of the film
 * @example filmTimeS(2, 1, [[1.5, 3]]) // 2.5
 */
export function filmTimeS(atS: number, fromS: number, slow: readonly SlowPassage[]): number {
  const within = slow.reduce((sum, [beginS, endS]) => {
    return sum + Math.max(0, Math.min(atS, endS) - Math.max(fromS, beginS))
  }, 0)
  return atS - fromS + (SLOWED - 1) * within
}

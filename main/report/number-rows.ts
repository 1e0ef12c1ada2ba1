import type { Estimate } from '../../analysis/estimate.ts'
import type { Ride } from '../../analysis/ride/ride.ts'
import { fixed, marginInWords } from './in-words.ts'

/** One line of the table of all numbers. */
export interface NumberRow {
  readonly name: string
  readonly value: string
  readonly margin: string
}

/** Every number of a ride that is known, for those who want them all. Places are from the pivot, + = past it. */
export function numberRows(ride: Ride, lengthM: number): readonly NumberRow[] {
  const { events, measures } = ride
  return knownRows([
    ['First paw on', events.firstOn, 's', 3],
    ['Board began to tip', events.tipStart, 's', 3],
    ['Lead paw came to rest', events.settled, 's', 3],
    ['Board landed', events.grounded, 's', 3],
    ['Landing heard', events.bangHeard, 's', 3],
    ['Dog left', events.left, 's', 3],
    ['Lead paw at the tip, from the pivot', shifted(measures.leadPawAtTipM, -lengthM / 2), 'm', 2],
    ['Body centre at the tip, from the pivot', shifted(measures.bodyAtTipM, -lengthM / 2), 'm', 2],
    ['Fall, from tip to landing', measures.dropTimeS, 's', 2],
    ['Hold before the landing', measures.holdBeforeGroundS, 's', 2],
    ['Stay after the landing', measures.stayAfterGroundS, 's', 2],
    ['Speed over the last metre before the board', measures.entrySpeedMps, 'm/s', 2],
    ['Speed from the entry end to the pivot', measures.climbSpeedMps, 'm/s', 2],
    ['Bounce of the exit end', measures.bounceM, 'm', 3],
  ])
}

/** Rows of the estimates that are known, at least from below. */
export function knownRows(named: readonly (readonly [string, Estimate, string, number])[]): readonly NumberRow[] {
  return named.flatMap(([name, estimate, unit, decimals]) => {
    if (estimate.kind === 'withheld') return []
    const value = `${fixed(estimate.value, decimals)} ${unit}`
    if (estimate.kind === 'atLeast') return [{ name, value: `at least ${value}`, margin: '' }]
    return [{ name, value, margin: marginInWords(estimate, decimals) }]
  })
}

function shifted(estimate: Estimate, by: number): Estimate {
  switch (estimate.kind) {
    case 'measured': {
      const [lo, hi] = estimate.ci95
      return { ...estimate, value: estimate.value + by, ci95: [lo + by, hi + by] }
    }
    case 'atLeast':
      return { ...estimate, value: estimate.value + by }
    case 'withheld':
      return estimate
  }
}

import type { Estimate, Measured } from '../estimate.ts'
import type { Ride } from '../ride/ride.ts'
import { marginInWords, quantityInWords } from '../words/in-words.ts'
import { DURATION } from '../words/number-rows.ts'
import { lengthDisplay, speedDisplay, type DisplayUnit, type Units } from '../words/units.ts'

/** One measure of two rides, and by how much the second is more than the first. */
export interface DifferenceRow {
  readonly name: string
  readonly first: string
  readonly second: string
  /** Empty where one of them was not measured. */
  readonly difference: string
  /** True where 0 lies outside the difference's 95 % interval. */
  readonly isClear: boolean
}

/**
 * How much more the second value is than the first. Both were measured apart from each other, so that what is uncertain
 * adds in quadrature, each side of the intervals for itself.
 *
 * @param first any unit
 * @param second the same unit
 * @returns second - first; `difference(measured(2, 0.3), measured(3, 0.4))` is 1 with a standard deviation of 0.5
 */
export function difference(first: Measured, second: Measured): Measured {
  const value = second.value - first.value
  const below = Math.hypot(second.value - second.ci95[0], first.ci95[1] - first.value)
  const above = Math.hypot(second.ci95[1] - second.value, first.value - first.ci95[0])
  return { kind: 'measured', value, sd: Math.hypot(first.sd, second.sd), ci95: [value - below, value + above] }
}

/**
 * Two rides measure by measure.
 *
 * @param first its ride and the length of its plank, m
 * @param second the same of the other
 * @param units in which lengths are told
 * @returns rows of which at least one ride has a value; places from the pivot
 */
export function differenceRows(
  first: { readonly ride: Ride; readonly lengthM: number },
  second: { readonly ride: Ride; readonly lengthM: number },
  units: Units,
): readonly DifferenceRow[] {
  const rows = named(first.ride, first.lengthM, units)
  const others = named(second.ride, second.lengthM, units)
  return rows.flatMap(([name, a, unit], k) => {
    const b = others[k]![1]
    if (a.kind === 'withheld' && b.kind === 'withheld') return []
    const both = a.kind === 'measured' && b.kind === 'measured' ? difference(a, b) : null
    const isClear = both !== null && (both.ci95[0] > 0 || both.ci95[1] < 0)
    const more = both === null ? '' : `${both.value > 0 ? '+' : ''}${inWords(both, unit)}`
    return [{ name, first: inWords(a, unit), second: inWords(b, unit), difference: more, isClear }]
  })
}

function inWords(estimate: Estimate, unit: DisplayUnit): string {
  switch (estimate.kind) {
    case 'withheld':
      return 'not measured'
    case 'atLeast':
      return `at least ${quantityInWords(estimate.value, unit)}`
    case 'measured': {
      const [lo, hi] = estimate.ci95
      const shown = {
        ...estimate,
        value: estimate.value * unit.perSi,
        ci95: [lo * unit.perSi, hi * unit.perSi] as const,
      }
      return `${quantityInWords(estimate.value, unit)} ${marginInWords(shown, unit.decimals)}`
    }
  }
}

function named(
  { measures }: Ride,
  lengthM: number,
  units: Units,
): readonly (readonly [name: string, estimate: Estimate, unit: DisplayUnit])[] {
  const place = lengthDisplay(units)
  const speed = speedDisplay(units)
  return [
    ['Hold before the landing', measures.holdBeforeGroundS, DURATION],
    ['Left after the landing', measures.leavingMarginS, DURATION],
    ['Fall, from tip to landing', measures.dropTimeS, DURATION],
    ['Lead paw at the tip, from the pivot', fromPivot(measures.leadPawAtTipM, lengthM), place],
    ['Body centre at the tip, from the pivot', fromPivot(measures.bodyAtTipM, lengthM), place],
    ['Speed over the last metre before the board', measures.entrySpeedMps, speed],
    ['Speed from the entry end to the pivot', measures.climbSpeedMps, speed],
  ]
}

function fromPivot(estimate: Estimate, lengthM: number): Estimate {
  if (estimate.kind === 'withheld') return estimate
  const value = estimate.value - lengthM / 2
  if (estimate.kind === 'atLeast') return { ...estimate, value }
  const [lo, hi] = estimate.ci95
  return { ...estimate, value, ci95: [lo - lengthM / 2, hi - lengthM / 2] }
}

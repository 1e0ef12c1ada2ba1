import type { Estimate } from '../estimate.ts'
import type { Ride } from '../ride/ride.ts'
import { inUnit, marginInWords, quantityInWords } from './in-words.ts'
import { siDisplay, lengthDisplay, smallLengthDisplay, speedDisplay, type DisplayUnit, type Units } from './units.ts'

/** One line of the table of all numbers. */
export interface NumberRow {
  readonly name: string
  readonly value: string
  readonly margin: string
}

export const MOMENT = siDisplay('s', 3)
export const DURATION = siDisplay('s', 2)
const ANGLE = siDisplay('°', 0)

/**
 * Every number of a ride that is known, for those who want them all. Places are from the pivot, + = past it.
 *
 * @param ride s and m; @param lengthM of the plank; @param units in which lengths are told
 * @returns rows in the order of the ride
 */
export function numberRows(ride: Ride, lengthM: number, units: Units = 'metric'): readonly NumberRow[] {
  const place = lengthDisplay(units)
  const speed = speedDisplay(units)
  const { events, measures } = ride
  const leftBefore = asLeftBefore(measures.stayAfterGroundS)
  return knownRows([
    ['First paw on', events.firstOn, MOMENT],
    ['Board began to tip', events.tipStart, MOMENT],
    ['Lead paw came to rest', events.settled, MOMENT],
    ['Board landed', events.grounded, MOMENT],
    ['Landing heard', events.bangHeard, MOMENT],
    ['Dog left', events.left, MOMENT],
    ['Lead paw at the tip, from the pivot', shifted(measures.leadPawAtTipM, -lengthM / 2), place],
    ['Body centre at the tip, from the pivot', shifted(measures.bodyAtTipM, -lengthM / 2), place],
    ['Fall, from tip to landing', measures.dropTimeS, DURATION],
    ['Hold before the landing', measures.holdBeforeGroundS, DURATION],
    leftBefore === null
      ? ['Stay after the landing', measures.stayAfterGroundS, DURATION]
      : ['Left before the landing', leftBefore, DURATION],
    ['Speed over the last metre before the board', measures.entrySpeedMps, speed],
    ...sided(measures.entryAngleDeg, 'Angle of entry', (side) => `coming from the ${side}`, ANGLE),
    ...sided(measures.entryOffsetM, 'Line of entry', (side) => `beside the middle line on the ${side}`, {
      ...smallLengthDisplay(units),
      decimals: units === 'metric' ? 0 : 1,
    }),
    ['Speed from the entry end to the pivot', measures.climbSpeedMps, speed],
    ...(measures.strideM === undefined ? [] : [['Stride on the climb', measures.strideM, place] as const]),
    ['Bounce of the exit end', measures.bounceM, smallLengthDisplay(units)],
    ...(measures.baseShiftM === undefined
      ? []
      : [['Shift of the base along the ground', measures.baseShiftM, smallLengthDisplay(units)] as const]),
  ])
}

/** The rows of the `named` estimates, in SI units, that are known, at least from below. */
export function knownRows(named: readonly (readonly [string, Estimate, DisplayUnit])[]): readonly NumberRow[] {
  return named.flatMap(([name, estimate, unit]) => {
    if (estimate.kind === 'withheld') return []
    const value = quantityInWords(estimate.value, unit)
    if (estimate.kind === 'atLeast') return [{ name, value: `at least ${value}`, margin: '' }]
    return [{ name, value, margin: marginInWords(inUnit(estimate, unit), unit.decimals) }]
  })
}

/** How long before the landing the dog left, s; null when it did not. */
function asLeftBefore(stay: Estimate): Estimate | null {
  if (stay.kind !== 'measured' || stay.value >= 0) return null
  const [lo, hi] = stay.ci95
  return { ...stay, value: -stay.value, ci95: [-hi, -lo] }
}

type NamedRow = readonly [name: string, estimate: Estimate, unit: DisplayUnit]

/**
 * The camera's side and the far side have names, so that nobody must know which is positive; where it may be either, none
 * is named.
 */
function sided(
  estimate: Estimate | undefined,
  name: string,
  onSide: (side: string) => string,
  unit: DisplayUnit,
): readonly NamedRow[] {
  if (estimate?.kind !== 'measured') return []
  const { value, ci95 } = estimate
  const isFar = value < 0
  const shown: Estimate = isFar ? { ...estimate, value: -value, ci95: [-ci95[1], -ci95[0]] } : estimate
  const side = ci95[0] < 0 && ci95[1] > 0 ? 'to no clear side' : onSide(isFar ? 'far side' : 'camera’s side')
  return [[`${name}, ${side}`, shown, unit]]
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

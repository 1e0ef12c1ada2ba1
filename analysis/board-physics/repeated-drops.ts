import { type Estimate, type Measured, withheld } from '../estimate.ts'
import { mixtureEstimate } from '../numeric/mixture.ts'

/** What is compared of a drop: its weight and its times, s. */
export interface TimedDrop {
  readonly massKg: number
  /** m along from the entry end. */
  readonly massAtM: number
  readonly fallFromPlacedS: Estimate | null
  readonly fallFromReleasedS: Estimate | null
}

/** Drops of one board with one weight at one place, taken together. */
export interface RepeatedDrops {
  readonly massKg: number
  readonly massAtM: number
  /** How many there are, timed or not. */
  readonly drops: number
  /** The mean of the board's falls, of as many drops as might be: what `drops` tell of it, s. */
  readonly fallFromPlacedS: Estimate
  readonly fallFromReleasedS: Estimate
  /** Shortest and longest, s; null where fewer than two were timed. */
  readonly spreadFromPlacedS: readonly [number, number] | null
  readonly spreadFromReleasedS: readonly [number, number] | null
}

/** Weights and places nearer than this are the same, kg and m (ours: what scales and tape tell). */
const SAME_KG = 0.01
const SAME_M = 0.02
/** Falls of one board differ by hundredths of a second: scale of what is expected of their scatter, s (an estimate). */
const SCATTER_S = 0.05
/** The scatter is integrated over up to this many times what was seen or expected, in so many steps (ours). */
const WIDEST = 12
const STEPS = 80
/** Sizes of the scatter that are e to the power of this less likely than the best are left out (ours). */
const UNLIKELY_LOG = 12
/** Steps that grow with this power: most is decided where the scatter is small. */
const GROWTH = 3

/**
 * Drops of one board that were done alike, each kind with its mean and how far they lie apart.
 *
 * @param drops of one board; times in s
 * @returns one element for each weight and place with at least two drops, in the order in which they first came
 */
export function repeatedDrops(drops: readonly TimedDrop[]): readonly RepeatedDrops[] {
  return alike(drops).map((group) => {
    const { massKg, massAtM } = group[0]!
    const placed = measuredOf(group.map(({ fallFromPlacedS }) => fallFromPlacedS))
    const released = measuredOf(group.map(({ fallFromReleasedS }) => fallFromReleasedS))
    return {
      massKg,
      massAtM,
      drops: group.length,
      fallFromPlacedS: meanFall(placed),
      fallFromReleasedS: meanFall(released),
      spreadFromPlacedS: spreadOf(placed),
      spreadFromReleasedS: spreadOf(released),
    }
  })
}

/**
 * The mean of falls that scatter by more than each was measured: the scatter is integrated out, beforehand a half-Cauchy
 * (Gelman, Bayesian Analysis 2006, 1:515, for few groups), so that two drops give a wide answer and many a narrow one.
 *
 * @param falls s
 * @returns withheld `too-few` for fewer than two
 */
export function meanFall(falls: readonly Measured[]): Estimate {
  if (falls.length < 2) return withheld('too-few', 'Fewer than two drops like this were timed.')
  const [least, most] = spreadOf(falls)!
  const widestS = WIDEST * Math.max(most - least, SCATTER_S)
  const parts = Array.from({ length: STEPS }, (_, k) => {
    const [fromS, toS] = [widestS * (k / STEPS) ** GROWTH, widestS * ((k + 1) / STEPS) ** GROWTH]
    return scatteringBy(falls, (fromS + toS) / 2, toS - fromS)
  })
  const best = parts.reduce((highest, { log }) => Math.max(highest, log), -Infinity)
  const total = parts.reduce((sum, { log }) => sum + Math.exp(log - best), 0)
  return mixtureEstimate(
    parts
      .filter(({ log }) => log > best - UNLIKELY_LOG)
      .map(({ log, mean, sd }) => ({ weight: Math.exp(log - best) / total, mean, sd })),
  )
}

/** The mean for one size of the scatter, and how likely that is, its share of all sizes included. */
function scatteringBy(falls: readonly Measured[], scatterS: number, widthS: number) {
  const weights = falls.map(({ sd }) => 1 / (sd * sd + scatterS * scatterS))
  const weight = weights.reduce((sum, w) => sum + w, 0)
  const mean = falls.reduce((sum, { value }, k) => sum + value * weights[k]!, 0) / weight
  const log = falls.reduce(
    (sum, { value }, k) => sum + 0.5 * Math.log(weights[k]!) - 0.5 * weights[k]! * (value - mean) ** 2,
    Math.log(widthS) - Math.log1p((scatterS / SCATTER_S) ** 2) - 0.5 * Math.log(weight),
  )
  return { log, mean, sd: 1 / Math.sqrt(weight) }
}

/**
 * By how much more falls of one board scatter than each was measured, over all weights: DerSimonian and Laird's moment
 * estimate (Controlled Clinical Trials 1986, 7:177), pooled.
 *
 * @param drops of one board; those from letting go count, because hands differ
 * @returns 1 sd, s; 0 where they agree within their intervals, or no two were done alike
 */
export function scatterOfFallsS(drops: readonly TimedDrop[]): number {
  let [excess, free, scale] = [0, 0, 0]
  for (const group of alike(drops)) {
    const falls = measuredOf(group.map(({ fallFromReleasedS }) => fallFromReleasedS))
    if (falls.length < 2) continue
    const weights = falls.map(({ sd }) => 1 / (sd * sd))
    const weight = weights.reduce((sum, w) => sum + w, 0)
    const mean = falls.reduce((sum, { value }, k) => sum + value * weights[k]!, 0) / weight
    excess += falls.reduce((sum, { value }, k) => sum + weights[k]! * (value - mean) ** 2, 0)
    free += falls.length - 1
    scale += weight - weights.reduce((sum, w) => sum + w * w, 0) / weight
  }
  return scale === 0 ? 0 : Math.sqrt(Math.max(0, (excess - free) / scale))
}

/** Groups of at least two. */
function alike(drops: readonly TimedDrop[]): readonly (readonly TimedDrop[])[] {
  const groups: TimedDrop[][] = []
  for (const drop of drops) {
    const group = groups.find(([first]) => isAlike(first!, drop))
    if (group === undefined) groups.push([drop])
    else group.push(drop)
  }
  return groups.filter((group) => group.length > 1)
}

/**
 * Whether two drops were done with one weight at one place.
 *
 * @param one a drop, kg and m
 * @param other another
 * @returns true within 10 g and 2 cm
 */
export function isAlike(
  one: Pick<TimedDrop, 'massKg' | 'massAtM'>,
  other: Pick<TimedDrop, 'massKg' | 'massAtM'>,
): boolean {
  return Math.abs(one.massKg - other.massKg) < SAME_KG && Math.abs(one.massAtM - other.massAtM) < SAME_M
}

function measuredOf(estimates: readonly (Estimate | null)[]): readonly Measured[] {
  return estimates.flatMap((estimate) => (estimate?.kind === 'measured' ? [estimate] : []))
}

function spreadOf(falls: readonly Measured[]): readonly [number, number] | null {
  if (falls.length < 2) return null
  const values = falls.map(({ value }) => value)
  return [Math.min(...values), Math.max(...values)]
}

import { columnM, type PawOdds } from './paw-odds.ts'
import { COLUMNS, STEP_S } from './paw-picture.ts'

/** A paw that stands still, read off the network's maps. */
export interface Planted {
  readonly limb: 'front' | 'hind'
  /** m along as it appears in the plane through the near edge. */
  readonly seenM: number
  /** Scatter of its place while it stands, m. */
  readonly scatterM: number
  readonly fromS: number
  readonly fromSdS: number
  readonly toS: number
  readonly toSdS: number
  /** Mean probability while it stands, 0-1. */
  readonly confidence: number
}

/** A place is followed from this probability on, and counts as touching above an even chance. */
const FAINT = 0.12
const EVEN = 0.5
/** A paw seen with this mean probability clearly stands there; every crossing has one. */
export const CLEAR = 0.75
/** A standing paw wanders no more than this from one step to the next, columns. */
const WANDER_COLUMNS = 1.6
/** A paw that is hidden for a moment is still there, steps. */
const HIDDEN_STEPS = 4
/** Shorter touches are not told from noise, s. */
const SHORTEST_S = 0.05

/**
 * All standing paws in the maps of touches.
 *
 * @param odds of a stretch
 * @returns in order of time
 */
export function plantedPaws(odds: PawOdds): Planted[] {
  const paws = (['front', 'hind'] as const).flatMap((limb) =>
    ridges(odds[limb], odds.steps).flatMap((ridge) => pawOf(ridge, limb, odds.fromS)),
  )
  return paws.sort((a, b) => a.fromS - b.fromS)
}

/** A line of peaks through the steps of one map; a step may be missing. */
interface Ridge {
  readonly steps: number[]
  readonly columns: number[]
  readonly odds: number[]
}

function ridges(map: Float32Array, steps: number): Ridge[] {
  const done: Ridge[] = []
  let open: Ridge[] = []
  for (let step = 0; step < steps; step++) {
    const peaks = peaksIn(map.subarray(step * COLUMNS, (step + 1) * COLUMNS))
    const taken = new Set<Ridge>()
    for (const peak of peaks) {
      const ridge = nearest(open, peak.column, taken)
      if (ridge === null) {
        const fresh = { steps: [step], columns: [peak.column], odds: [peak.odds] }
        open.push(fresh)
        taken.add(fresh)
        continue
      }
      taken.add(ridge)
      ridge.steps.push(step)
      ridge.columns.push(peak.column)
      ridge.odds.push(peak.odds)
    }
    const lost = (ridge: Ridge) => step - ridge.steps[ridge.steps.length - 1]! > HIDDEN_STEPS
    done.push(...open.filter(lost))
    open = open.filter((ridge) => !lost(ridge))
  }
  return [...done, ...open]
}

/** The open ridge next to a column, strongest peaks choosing first; null where none is near. */
function nearest(open: readonly Ridge[], column: number, taken: ReadonlySet<Ridge>): Ridge | null {
  let best: Ridge | null = null
  let bestOff = WANDER_COLUMNS
  for (const ridge of open) {
    if (taken.has(ridge)) continue
    const off = Math.abs(ridge.columns[ridge.columns.length - 1]! - column)
    if (off >= bestOff) continue
    best = ridge
    bestOff = off
  }
  return best
}

/** Local maxima of one step, the strongest first, to a fraction of a column. */
function peaksIn(row: Float32Array): { column: number; odds: number }[] {
  const peaks: { column: number; odds: number }[] = []
  for (let column = 1; column < COLUMNS - 1; column++) {
    const here = row[column]!
    if (here < FAINT || here < row[column - 1]! || here <= row[column + 1]!) continue
    const [before, after] = [row[column - 1]!, row[column + 1]!]
    const bend = before - 2 * here + after
    peaks.push({ column: column + (bend < 0 ? (0.5 * (before - after)) / bend : 0), odds: here })
  }
  return peaks.sort((a, b) => b.odds - a.odds)
}

function pawOf({ steps, columns, odds }: Ridge, limb: Planted['limb'], originS: number): Planted[] {
  const first = odds.findIndex((p) => p >= EVEN)
  if (first < 0) return []
  const last = odds.findLastIndex((p) => p >= EVEN)
  const from = crossing(steps, odds, first, -1)
  const to = crossing(steps, odds, last, 1)
  if ((to.step - from.step) * STEP_S < SHORTEST_S) return []
  const inside = columns.slice(first, last + 1)
  const weights = odds.slice(first, last + 1)
  const total = weights.reduce((sum, w) => sum + w, 0)
  const mean = inside.reduce((sum, c, i) => sum + c * weights[i]!, 0) / total
  const square = inside.reduce((sum, c, i) => sum + (c - mean) ** 2 * weights[i]!, 0) / total
  return [
    {
      limb,
      seenM: columnM(mean),
      scatterM: (columnM(1) - columnM(0)) * Math.sqrt(square),
      fromS: originS + from.step * STEP_S,
      fromSdS: from.sdSteps * STEP_S,
      toS: originS + to.step * STEP_S,
      toSdS: to.sdSteps * STEP_S,
      confidence: total / weights.length,
    },
  ]
}

/** Where the probability passes an even chance outwards from a peak, and how long it takes to fall from 0.8 to 0.2. */
function crossing(
  steps: readonly number[],
  odds: readonly number[],
  at: number,
  outwards: 1 | -1,
): { step: number; sdSteps: number } {
  const reach = (level: number): number => {
    let i = at
    while (odds[i]! < level && i - outwards >= 0 && i - outwards < odds.length && Math.abs(i - at) < 12) i -= outwards
    while (odds[i]! >= level) {
      const next = i + outwards
      const beyond = odds[next] ?? 0
      const stepBeyond = steps[next] ?? steps[i]! + outwards
      if (beyond < level) return steps[i]! + ((odds[i]! - level) / (odds[i]! - beyond)) * (stepBeyond - steps[i]!)
      i = next
    }
    return steps[i]!
  }
  const width = Math.abs(reach(0.8) - reach(0.2))
  return { step: reach(EVEN), sdSteps: 0.6 * width }
}

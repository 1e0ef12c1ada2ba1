import type { ContactBand } from './contact-band.ts'

/** Something that stands at one place along the plank for a while: a candidate for a planted paw. */
export interface Streak {
  /** Middle, m along at the near edge. */
  readonly alongM: number
  readonly widthM: number
  /** First and last frame. */
  readonly fromFrame: number
  readonly toFrame: number
  /** Mean sd above habit. */
  readonly strength: number
  /** How fast its front and back edges move, m/s; 0 for a planted paw. */
  readonly driftMps: number
  /** Mean sd above habit just below the plank at the same place and time. */
  readonly belowStrength: number
  /**
   * How much of it came sliding in from one side and slid out at the other, 0-1: a leg that walks past behind the
   * plank does, a paw comes down and goes up.
   */
  readonly passing: number
}

const LOW = 1.5
const HIGH = 2.5
/** A paw stands at least this long, counted in whole frames, s. */
const SHORTEST_S = 0.09

interface Interval {
  readonly column: number
  readonly from: number
  readonly to: number
}

/**
 * Finds level streaks in the contact band.
 *
 * @returns streaks of every kind, paws and passers-by, in order of place
 */
export function findStreaks(band: ContactBand): Streak[] {
  const { columns, ptsS } = band
  const frames = ptsS.length
  const frameS = frames > 1 ? (ptsS[frames - 1]! - ptsS[0]!) / (frames - 1) : 1 / 30
  const done: Interval[][] = []
  let open: Interval[][] = []
  for (let column = 0; column < columns; column++) {
    const intervals = columnIntervals(band, column, frameS)
    const used = new Set<Interval>()
    const next: Interval[][] = []
    for (const cluster of open) {
      const last = cluster[cluster.length - 1]!
      let best: Interval | null = null
      let bestShare = 0.5
      for (const interval of intervals) {
        if (used.has(interval)) continue
        const overlap = Math.min(last.to, interval.to) - Math.max(last.from, interval.from) + 1
        const union = Math.max(last.to, interval.to) - Math.min(last.from, interval.from) + 1
        if (overlap / union > bestShare) {
          bestShare = overlap / union
          best = interval
        }
      }
      if (best !== null) {
        used.add(best)
        cluster.push(best)
        next.push(cluster)
      } else if (column - last.column < 2) next.push(cluster)
      else done.push(cluster)
    }
    for (const interval of intervals) if (!used.has(interval)) next.push([interval])
    open = next
  }
  done.push(...open)
  return done.flatMap((cluster) => twoFeet(cluster, frameS)).flatMap((cluster) => streakOf(cluster, band) ?? [])
}

function columnIntervals(band: ContactBand, column: number, frameS: number): Interval[] {
  const { columns, values, ptsS } = band
  const out: Interval[] = []
  const frames = ptsS.length
  const bridge = Math.max(1, Math.round(0.03 / frameS))
  let k = 0
  while (k < frames) {
    if (!(values[k * columns + column]! > LOW)) {
      k++
      continue
    }
    let end = k
    let gap = 0
    let high = 0
    for (let j = k; j < frames && gap <= bridge; j++) {
      const v = values[j * columns + column]!
      if (v > LOW) {
        end = j
        gap = 0
        if (v > HIGH) high++
      } else gap++
    }
    if ((end - k + 1) * frameS >= SHORTEST_S && high >= 0.5 * (end - k + 1)) out.push({ column, from: k, to: end })
    k = end + 1
  }
  return out
}

/**
 * Two paws side by side, one put down and lifted later than the other, share columns: told apart by the columns that
 * only one of them covers.
 */
function twoFeet(cluster: readonly Interval[], frameS: number): (readonly Interval[])[] {
  const third = Math.floor(cluster.length / 3)
  if (third < 1) return [cluster]
  const low = cluster.slice(0, third)
  const high = cluster.slice(-third)
  const middle = (own: readonly Interval[], key: 'from' | 'to') => medianOf(own.map((i) => i[key]))
  const laterBy = (middle(high, 'from') - middle(low, 'from')) * frameS
  const longerBy = (middle(high, 'to') - middle(low, 'to')) * frameS
  if (laterBy * longerBy <= 0 || Math.abs(laterBy) < SHORTEST_S || Math.abs(longerBy) < SHORTEST_S) return [cluster]
  const [first, second] = laterBy > 0 ? [low, high] : [high, low]
  const near = Math.max(1, Math.round(0.05 / frameS))
  const firstFrom = middle(first, 'from')
  const firstTo = middle(first, 'to')
  const secondFrom = middle(second, 'from')
  const secondTo = middle(second, 'to')
  return [
    cluster.filter((i) => Math.abs(i.from - firstFrom) <= near).map((i) => ({ ...i, to: Math.min(i.to, firstTo) })),
    cluster.filter((i) => Math.abs(i.to - secondTo) <= near).map((i) => ({ ...i, from: Math.max(i.from, secondFrom) })),
  ]
}

function streakOf(cluster: readonly Interval[], band: ContactBand): Streak | null {
  const widthM = cluster.length * band.cellM
  if (widthM < 0.01) return null
  const longest = cluster.reduce((m, i) => Math.max(m, i.to - i.from + 1), 0)
  const core = cluster.filter((i) => i.to - i.from + 1 >= 0.6 * longest)
  const from = medianOf(core.map((i) => i.from))
  const to = medianOf(core.map((i) => i.to))
  let sum = 0
  let moment = 0
  for (const i of core) {
    for (let k = Math.max(from, i.from); k <= Math.min(to, i.to); k++) {
      const v = band.values[k * band.columns + i.column]!
      if (Number.isNaN(v)) continue
      sum += v
      moment += v * i.column
    }
  }
  if (sum <= 0) return null
  return describeStreak(band, {
    alongM: band.fromAlongM + (moment / sum) * band.cellM,
    widthM,
    fromFrame: from,
    toFrame: to,
    strength: sum / core.length / (to - from + 1),
  })
}

/**
 * Adds to a streak's place and time what tells a paw from a passer-by.
 *
 * @param band the contact band that it was found in
 * @returns the streak with drift, what is below and how much it passes
 */
export function describeStreak(
  band: ContactBand,
  streak: Pick<Streak, 'alongM' | 'widthM' | 'fromFrame' | 'toFrame' | 'strength'>,
): Streak {
  const column = (streak.alongM - band.fromAlongM) / band.cellM
  const { fromFrame: from, toFrame: to } = streak
  return {
    ...streak,
    driftMps: driftMps(band, column, from, to),
    belowStrength: belowStrength(band, column, from, to),
    passing: passing(band, column, from, to),
  }
}

/** Strongest thing just below the plank within a slanted leg's reach of a column, mean over the streak's frames, sd. */
function belowStrength(band: ContactBand, column: number, from: number, to: number): number {
  const reach = Math.round(0.08 / band.cellM)
  const half = Math.round(0.02 / band.cellM)
  let best = 0
  for (let shift = -reach; shift <= reach; shift += half) {
    let sum = 0
    let count = 0
    for (let k = from; k <= to; k++) {
      for (let c = Math.round(column) + shift - half; c <= Math.round(column) + shift + half; c++) {
        const v = c < 0 || c >= band.columns ? NaN : band.below[k * band.columns + c]!
        if (Number.isNaN(v)) continue
        sum += v
        count++
      }
    }
    if (count > 0) best = Math.max(best, sum / count)
  }
  return best
}

/** See {@link Streak.passing}: the weaker of arrival and departure, for the direction in which it is stronger. */
function passing(band: ContactBand, column: number, from: number, to: number): number {
  const { ptsS } = band
  const here = meanIn(band, column - 0.02 / band.cellM, column + 0.02 / band.cellM, ptsS[from]!, ptsS[to]!)
  if (!(here > 0)) return 0
  const side = (sign: 1 | -1, early: boolean): number => {
    const a = column + (sign * 0.05) / band.cellM
    const b = column + (sign * 0.13) / band.cellM
    const t = early ? [ptsS[from]! - 0.12, ptsS[from]! - 0.03] : [ptsS[to]! + 0.03, ptsS[to]! + 0.12]
    return Math.min(1, Math.max(0, meanIn(band, Math.min(a, b), Math.max(a, b), t[0]!, t[1]!) / here))
  }
  return Math.max(Math.min(side(-1, true), side(1, false)), Math.min(side(1, true), side(-1, false)))
}

/** Mean of the band over columns and times, sd; 0 where nothing is known. */
function meanIn(band: ContactBand, fromColumn: number, toColumn: number, fromS: number, toS: number): number {
  let sum = 0
  let count = 0
  for (let k = 0; k < band.ptsS.length; k++) {
    if (band.ptsS[k]! < fromS - 1e-6 || band.ptsS[k]! > toS + 1e-6) continue
    for (let c = Math.max(0, Math.round(fromColumn)); c <= Math.min(band.columns - 1, Math.round(toColumn)); c++) {
      const v = band.values[k * band.columns + c]!
      if (Number.isNaN(v)) continue
      sum += v
      count++
    }
  }
  return count === 0 ? 0 : sum / count
}

/** Speed of the foreground's middle near the streak, m/s along; least squares over its frames. */
function driftMps(band: ContactBand, column: number, from: number, to: number): number {
  let n = 0
  let st = 0
  let sx = 0
  let stt = 0
  let stx = 0
  for (let k = from; k <= to; k++) {
    const x = centreM(band, column, k)
    if (x === null) continue
    const t = band.ptsS[k]!
    n++
    st += t
    sx += x
    stt += t * t
    stx += t * x
  }
  const det = n * stt - st * st
  return n < 2 || det <= 0 ? 0 : (n * stx - st * sx) / det
}

/**
 * Middle of the foreground within 5 cm of a column in one frame, m along; null where there is none.
 *
 * @param band the contact band that it was found in
 */
export function centreM(band: ContactBand, column: number, frame: number): number | null {
  const reach = Math.round(0.05 / band.cellM)
  let mass = 0
  let moment = 0
  for (
    let c = Math.max(0, Math.round(column) - reach);
    c <= Math.min(band.columns - 1, Math.round(column) + reach);
    c++
  ) {
    const v = band.values[frame * band.columns + c]!
    if (v > 1) {
      mass += v
      moment += v * c
    }
  }
  return mass === 0 ? null : band.fromAlongM + (moment / mass) * band.cellM
}

function medianOf(values: readonly number[]): number {
  return [...values].sort((a, b) => a - b)[values.length >> 1]!
}

import type { Rises } from './rises.ts'

/** A moment at which the sound suddenly gets louder. */
export interface Onset {
  /** s after the first sample; good to a few ms. */
  readonly atS: number
  /** Neighbouring octaves in which it stands out best, places in `Rises.bands`, both included. */
  readonly run: Run
  /** How far it stands out over the wandering of the background in these octaves, in sds. */
  readonly score: number
  /** Mean rise over these octaves, dB. */
  readonly riseDb: number
  /** Power that comes in with it in these octaves, dB of full scale. */
  readonly jumpDb: number
}

export interface Run {
  readonly first: number
  readonly last: number
}

/** Two onsets nearer than this cannot be told apart by their loudness alone. */
const APART_S = 0.02
/** Onsets below this are not listed: a quiet background reaches it by chance. */
const LEAST_SCORE = 3
/** An octave joins the best run when it rises clearly by itself, too. */
const JOINS = { score: 4, riseDb: 6 }

/**
 * Lists the onsets of a sound, each in the neighbouring octaves where it stands out best.
 *
 * @param rises of one sound
 * @returns onsets in order of time, at least 20 ms apart
 */
export function onsetsOf(rises: Rises): Onset[] {
  const runs = allRuns(rises.bands.length)
  const best: Run[] = []
  const scores = Float64Array.from({ length: rises.count }, (_, i) => {
    let top = -Infinity
    for (const run of runs) {
      const score = scoreOf(rises, run, i)
      if (score > top) [top, best[i]] = [score, run]
    }
    return top
  })
  return peaksOf(scores, rises.hopS).flatMap((i) => {
    const found = best[i]
    return found === undefined ? [] : [onsetAt(rises, widened(rises, found, i), i)]
  })
}

/**
 * Lists the onsets that a sound has in given octaves.
 *
 * @param rises of one sound
 * @param run the octaves
 * @returns onsets in order of time, at least 20 ms apart
 */
export function onsetsInRun(rises: Rises, run: Run): Onset[] {
  const scores = Float64Array.from({ length: rises.count }, (_, i) => scoreOf(rises, run, i))
  return peaksOf(scores, rises.hopS).map((i) => onsetAt(rises, run, i))
}

function allRuns(bands: number): Run[] {
  const runs: Run[] = []
  for (let first = 0; first < bands; first++) for (let last = first; last < bands; last++) runs.push({ first, last })
  return runs
}

/** Sum of independent standard scores over the square root of their number: a standard score again. */
function scoreOf(rises: Rises, run: Run, i: number): number {
  let sum = 0
  for (let band = run.first; band <= run.last; band++) sum += bandScore(rises, band, i)
  return sum / Math.sqrt(run.last - run.first + 1)
}

function bandScore(rises: Rises, band: number, i: number): number {
  const of = rises.bands[band]
  return of === undefined ? 0 : (of.riseDb[i] ?? 0) / of.spreadDb
}

function widened(rises: Rises, run: Run, i: number): Run {
  const rising = (band: number) =>
    bandScore(rises, band, i) >= JOINS.score && (rises.bands[band]?.riseDb[i] ?? 0) >= JOINS.riseDb
  let { first, last } = run
  while (first > 0 && rising(first - 1)) first--
  while (last < rises.bands.length - 1 && rising(last + 1)) last++
  return { first, last }
}

function onsetAt(rises: Rises, run: Run, i: number): Onset {
  const bands = rises.bands.slice(run.first, run.last + 1)
  const riseDb = bands.reduce((sum, band) => sum + (band.riseDb[i] ?? 0), 0) / bands.length
  const jump = bands.reduce((sum, band) => sum + (band.jump[i] ?? 0), 0)
  return {
    atS: i * rises.hopS,
    run,
    score: scoreOf(rises, run, i),
    riseDb,
    jumpDb: 10 * Math.log10(Math.max(jump, 1e-20)),
  }
}

/** Places of the largest values within APART_S on both sides; the first of equal ones. */
function peaksOf(scores: Float64Array, hopS: number): number[] {
  const reach = Math.round(APART_S / hopS)
  const peaks: number[] = []
  for (let i = 0; i < scores.length; i++) {
    const here = scores[i] ?? 0
    if (here < LEAST_SCORE) continue
    let isPeak = true
    for (let j = Math.max(0, i - reach); isPeak && j <= Math.min(scores.length - 1, i + reach); j++) {
      const there = scores[j] ?? 0
      isPeak = there < here || (there === here && j >= i)
    }
    if (isPeak) peaks.push(i)
  }
  return peaks
}

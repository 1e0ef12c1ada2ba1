import type { ContactBand } from './contact-band.ts'
import { centreM, describeStreak, type Streak } from './streaks.ts'

/** Shorter pieces are not stances, s. */
const SHORTEST_S = 0.07
/** Two soles less far apart than this look like one, m. */
const LEAST_STEP_M = 0.01

/**
 * Takes a streak apart where a hind paw stepped into a front paw's print: its middle jumps once and stands still before
 * and after.
 *
 * @param band the contact band that it was found in
 * @returns the streak itself, or its two parts; both overlap nowhere, though the paws may have for a frame or two
 */
export function splitStreak(streak: Streak, band: ContactBand): Streak[] {
  const column = (streak.alongM - band.fromAlongM) / band.cellM
  const frames: number[] = []
  const places: number[] = []
  for (let k = streak.fromFrame; k <= streak.toFrame; k++) {
    const x = centreM(band, column, k)
    if (x === null) continue
    frames.push(k)
    places.push(x)
  }
  const n = places.length
  if (n < 4) return [streak]
  const whole = scatter(places, 0, n)
  let best = n
  let bestRest = Infinity
  for (let cut = 2; cut <= n - 2; cut++) {
    const firstS = band.ptsS[frames[cut - 1]!]! - band.ptsS[frames[0]!]!
    const secondS = band.ptsS[frames[n - 1]!]! - band.ptsS[frames[cut]!]!
    if (firstS < SHORTEST_S || secondS < SHORTEST_S) continue
    const rest = scatter(places, 0, cut).squares + scatter(places, cut, n).squares
    if (rest < bestRest) {
      bestRest = rest
      best = cut
    }
  }
  if (best === n) return [streak]
  const step = scatter(places, best, n).mean - scatter(places, 0, best).mean
  // A steady slide leaves a quarter of its squares when cut in two, a clean step almost nothing.
  if (Math.abs(step) < LEAST_STEP_M || bestRest > 0.22 * whole.squares) return [streak]
  return [
    { from: 0, to: best },
    { from: best, to: n },
  ].map(({ from, to }) =>
    describeStreak(band, {
      alongM: scatter(places, from, to).mean,
      widthM: Math.max(band.cellM, streak.widthM - Math.abs(step)),
      fromFrame: frames[from]!,
      toFrame: frames[to - 1]!,
      strength: streak.strength,
    }),
  )
}

function scatter(values: readonly number[], from: number, to: number): { mean: number; squares: number } {
  let mean = 0
  for (let i = from; i < to; i++) mean += values[i]!
  mean /= to - from
  let squares = 0
  for (let i = from; i < to; i++) squares += (values[i]! - mean) ** 2
  return { mean, squares }
}

import {
  joinMotions,
  moveMotion,
  readPlace,
  unknownMotion,
  type MotionReach,
  type MotionState,
  type Outliers,
} from './motion-filter.ts'

/** Readings of one place through time: parallel arrays, times rising, only frames that have a value. */
export interface Readings {
  readonly timesS: Float64Array
  /** u: rad for the board, m for the dog. */
  readonly places: Float64Array
  /** u2, independent from frame to frame. */
  readonly variances: Float64Array
}

/** What the smoothing may assume; `jerkDensities` are tried in turn and the one that explains the readings best is kept. */
export interface MotionHabits {
  readonly reach: MotionReach
  readonly jerkDensities: readonly number[]
  readonly outliers: Outliers
}

/** Readings made into a motion that can be asked at any instant between them. */
export interface MotionCurve {
  readonly fromS: number
  readonly toS: number
  /** Place and speed at an instant; null outside `fromS` to `toS`. */
  at(timeS: number): MotionState | null
  /** Length of the stretch without readings around an instant, s; Infinity outside `fromS` to `toS`. */
  gapAt(timeS: number): number
}

/**
 * Smooths readings, robust against wild ones.
 *
 * @param readings at least one
 * @param habits how the thing may move
 * @returns a curve whose covariance grows in gaps; null without readings
 */
export function smoothMotion(readings: Readings, habits: MotionHabits): MotionCurve | null {
  const { timesS } = readings
  const count = timesS.length
  if (count === 0) return null
  let best: { forward: readonly MotionState[]; logEvidence: number; jerkDensity: number } | null = null
  for (const jerkDensity of habits.jerkDensities) {
    const pass = filterForward(readings, 0, count, habits, jerkDensity)
    const logEvidence = pass.logEvidences[count - 1]!
    if (best === null || logEvidence > best.logEvidence) best = { forward: pass.states, logEvidence, jerkDensity }
  }
  if (best === null) return null
  const { forward, jerkDensity } = best
  const backward = filterBackward(readings, 0, count, habits, jerkDensity)
  return {
    fromS: timesS[0]!,
    toS: timesS[count - 1]!,
    at(timeS) {
      const i = indexBefore(timesS, timeS)
      if (i < 0 || timeS > timesS[count - 1]!) return null
      const ahead = moveMotion(forward[i]!, timeS - timesS[i]!, jerkDensity)
      if (i === count - 1) return ahead
      return joinMotions(ahead, moveMotion(backward[i + 1]!, timeS - timesS[i + 1]!, jerkDensity))
    },
    gapAt(timeS) {
      const i = indexBefore(timesS, timeS)
      if (i < 0 || timeS > timesS[count - 1]!) return Infinity
      return i === count - 1 || timeS === timesS[i] ? 0 : timesS[i + 1]! - timesS[i]!
    },
  }
}

export interface ForwardPass {
  /** After taking in the reading of the same index, counted from `from`. */
  readonly states: readonly MotionState[]
  /** Logarithm of the density of all readings so far. */
  readonly logEvidences: Float64Array
}

/**
 * Runs the filter over part of the readings, earliest first.
 *
 * @param readings the whole
 * @param from first index
 * @param to one beyond the last index
 * @param habits reach and outliers
 * @param jerkDensity (u/s3)2 s
 * @param start what is known at the first reading's instant, before it; nothing if absent
 * @returns one state and one running evidence for each reading
 */
export function filterForward(
  readings: Readings,
  from: number,
  to: number,
  habits: MotionHabits,
  jerkDensity: number,
  start?: MotionState,
): ForwardPass {
  const states: MotionState[] = []
  const logEvidences = new Float64Array(Math.max(to - from, 0))
  let state = start ?? unknownMotion(readings.places[from] ?? 0, habits.reach)
  let logEvidence = 0
  for (let i = from; i < to; i++) {
    if (i > from) state = moveMotion(state, readings.timesS[i]! - readings.timesS[i - 1]!, jerkDensity)
    const reading = readPlace(state, readings.places[i]!, readings.variances[i]!, habits.outliers)
    state = reading.state
    logEvidence += reading.logDensity
    states.push(state)
    logEvidences[i - from] = logEvidence
  }
  return { states, logEvidences }
}

/**
 * Runs the filter over part of the readings, latest first, knowing nothing at the end.
 *
 * @param readings the whole
 * @param from first index
 * @param to one beyond the last index
 * @param habits reach and outliers
 * @param jerkDensity (u/s3)2 s
 * @returns one state for each reading, counted from `from`: what that reading and all later ones say
 */
export function filterBackward(
  readings: Readings,
  from: number,
  to: number,
  habits: MotionHabits,
  jerkDensity: number,
): readonly MotionState[] {
  const states = new Array<MotionState>(Math.max(to - from, 0))
  let state = unknownMotion(readings.places[to - 1] ?? 0, habits.reach)
  for (let i = to - 1; i >= from; i--) {
    if (i < to - 1) state = moveMotion(state, readings.timesS[i]! - readings.timesS[i + 1]!, jerkDensity)
    state = readPlace(state, readings.places[i]!, readings.variances[i]!, habits.outliers).state
    states[i - from] = state
  }
  return states
}

/**
 * The last index whose time is at or before an instant.
 *
 * @param timesS rising
 * @param timeS s
 * @returns -1 when all times are later
 * @example indexBefore(Float64Array.of(0, 1, 2), 1.5) // 1
 */
export function indexBefore(timesS: Float64Array, timeS: number): number {
  let low = 0
  let high = timesS.length
  while (low < high) {
    const middle = (low + high) >> 1
    if (timesS[middle]! <= timeS) low = middle + 1
    else high = middle
  }
  return low - 1
}

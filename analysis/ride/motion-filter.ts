/**
 * What is known of a moving thing at one instant: place, speed and acceleration along one line, with their covariance.
 * Between readings the jerk (rate of change of acceleration) is white noise, the simplest motion whose forces change
 * in ways nobody wrote down. Any unit of length or angle will do; here `u`.
 *
 * Method: the Kalman filter (Kalman 1960) for a thrice integrated Wiener process (Wahba 1978 showed that its smoother
 * is a smoothing spline).
 */
export interface MotionState {
  /** Place, u; speed, u/s; acceleration, u/s2. */
  readonly x: number
  readonly v: number
  readonly a: number
  /** Covariances: `xv` is that of place and speed, and so on. */
  readonly xx: number
  readonly xv: number
  readonly xa: number
  readonly vv: number
  readonly va: number
  readonly aa: number
}

/** How wide a motion can be before anything is known of it, 1 sd: place u, speed u/s, acceleration u/s2. */
export interface MotionReach {
  readonly place: number
  readonly speed: number
  readonly acceleration: number
}

/**
 * A motion of which only the reach is known.
 *
 * @param place where it is on average, u
 * @param reach sd around it
 * @returns speed and acceleration 0 on average, no covariance
 */
export function unknownMotion(place: number, reach: MotionReach): MotionState {
  return motionFrom(place, 0, 0, reach.place ** 2, reach.speed ** 2, reach.acceleration ** 2)
}

/**
 * A motion with uncorrelated place `x` (u), speed `v` (u/s) and acceleration `a` (u/s2).
 *
 * @param xx variance of x
 * @param vv variance of v
 * @param aa variance of a
 */
export function motionFrom(x: number, v: number, a: number, xx: number, vv: number, aa: number): MotionState {
  return { x, v, a, xx, xv: 0, xa: 0, vv, va: 0, aa }
}

/**
 * Moves a state through time without readings.
 *
 * @param state at some instant
 * @param stepS s; negative looks back in time
 * @param jerkDensity spectral density of the jerk, (u/s3)2 s: over t seconds the acceleration wanders by sqrt(density t)
 * @returns the state at that instant + stepS, wider by what the jerk may have done
 */
export function moveMotion(state: MotionState, stepS: number, jerkDensity: number): MotionState {
  const t = stepS
  const half = (t * t) / 2
  const noise = jerkDensity * Math.abs(t)
  const xv = state.xv + t * state.vv + half * state.va
  const xa = state.xa + t * state.va + half * state.aa
  const va = state.va + t * state.aa
  const xx = state.xx + t * (state.xv + xv) + half * (state.xa + xa)
  return {
    x: state.x + t * state.v + half * state.a,
    v: state.v + t * state.a,
    a: state.a,
    xx: xx + (noise * t ** 4) / 20,
    xv: xv + t * xa + (noise * t ** 3) / 8,
    xa: xa + (noise * t * t) / 6,
    vv: state.vv + t * (state.va + va) + (noise * t * t) / 3,
    va: va + (noise * t) / 2,
    aa: state.aa + noise,
  }
}

/** Readings that have nothing to do with the motion: how many, and over what range they fall, u. */
export interface Outliers {
  readonly share: number
  readonly range: number
}

export interface MotionReading {
  readonly state: MotionState
  /** Logarithm of the density of the reading given what was known before, 1/u. */
  readonly logDensity: number
}

/**
 * Takes in one reading of the place.
 *
 * A reading may be an outlier: then it spreads evenly over the outliers' range. It counts by the probability that it is
 * none, so that one wild frame bends nothing.
 *
 * @param state what was known before
 * @param place what was read, u
 * @param variance of the reading, u2
 * @param outliers how common wild readings are
 * @returns the state after it and how well the reading fitted
 */
export function readPlace(state: MotionState, place: number, variance: number, outliers: Outliers): MotionReading {
  const surprise = place - state.x
  const spread = state.xx + variance
  const logInlier =
    Math.log(1 - outliers.share) - 0.5 * ((surprise * surprise) / spread + Math.log(2 * Math.PI * spread))
  const wild = outliers.share / outliers.range
  // Without outliers even the most surprising reading counts in full, however small its density.
  const trust = wild === 0 ? 1 : 1 / (1 + wild * Math.exp(-logInlier))
  const logDensity = wild === 0 ? logInlier : Math.log(Math.exp(logInlier) + wild)
  const gain = trust / spread
  const [gx, gv, ga] = [gain * state.xx, gain * state.xv, gain * state.xa]
  return {
    state: {
      x: state.x + gx * surprise,
      v: state.v + gv * surprise,
      a: state.a + ga * surprise,
      xx: state.xx - gx * state.xx,
      xv: state.xv - gx * state.xv,
      xa: state.xa - gx * state.xa,
      vv: state.vv - gv * state.xv,
      va: state.va - gv * state.xa,
      aa: state.aa - ga * state.xa,
    },
    logDensity,
  }
}

/**
 * Joins two independent opinions of the same motion at the same instant, for instance one from all earlier readings
 * and one from all later ones.
 *
 * @param one the first opinion
 * @param other the second; may be very wide
 * @returns the mean weighted by both precisions, and its covariance
 */
export function joinMotions(one: MotionState, other: MotionState): MotionState {
  // Cholesky factor of the summed covariance, scaled to a unit diagonal so that u, u/s and u/s2 are of a size.
  const sx = Math.sqrt(one.xx + other.xx)
  const sv = Math.sqrt(one.vv + other.vv)
  const sa = Math.sqrt(one.aa + other.aa)
  const l21 = (one.xv + other.xv) / (sx * sv)
  const l31 = (one.xa + other.xa) / (sx * sa)
  const l22 = Math.sqrt(Math.max(1 - l21 * l21, 1e-12))
  const l32 = ((one.va + other.va) / (sv * sa) - l21 * l31) / l22
  const l33 = Math.sqrt(Math.max(1 - l31 * l31 - l32 * l32, 1e-12))
  // Each vector w below is the factor's inverse times one column, so that products w . w are products with the inverse.
  const through = (x: number, v: number, a: number): [number, number, number] => {
    const w1 = x / sx
    const w2 = (v / sv - l21 * w1) / l22
    return [w1, w2, (a / sa - l31 * w1 - l32 * w2) / l33]
  }
  const gap = through(other.x - one.x, other.v - one.v, other.a - one.a)
  const wx = through(one.xx, one.xv, one.xa)
  const wv = through(one.xv, one.vv, one.va)
  const wa = through(one.xa, one.va, one.aa)
  return {
    x: one.x + dot(wx, gap),
    v: one.v + dot(wv, gap),
    a: one.a + dot(wa, gap),
    xx: Math.max(one.xx - dot(wx, wx), 0),
    xv: one.xv - dot(wx, wv),
    xa: one.xa - dot(wx, wa),
    vv: Math.max(one.vv - dot(wv, wv), 0),
    va: one.va - dot(wv, wa),
    aa: Math.max(one.aa - dot(wa, wa), 0),
  }
}

function dot(one: readonly [number, number, number], other: readonly [number, number, number]): number {
  return one[0] * other[0] + one[1] * other[1] + one[2] * other[2]
}

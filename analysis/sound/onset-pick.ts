/** When a sound sets in, s after the first sample, with 1 sd. */
export interface OnsetPick {
  readonly atS: number
  readonly sdS: number
}

/** Looked at before and after the rough place. */
const BEFORE_S = 0.025
const AFTER_S = 0.012
/** Levels of the rise, as parts of its height (root mean square of the loudest 3 ms), at which it is looked for: the foot lies at the middle one. */
const FEET = { low: 0.05, middle: 0.1, high: 0.4 }
/** The start of the rise lies within this before the blow itself; what comes earlier is another sound. */
const NEAR_S = 0.012
const FEWEST = 8
/** Power of an earlier part over what was there before it, at least: 6 dB. */
const EARLIER_RISE = 4
const PEAK_LOOK_S = 0.003
/** The end of a plank is 0.3 m wide and does not land all at once. Our judgement, no source. */
const LANDING_SD_S = 0.0002

/**
 * Refines an onset to the start of its rise, well below a millisecond where the sound allows it.
 *
 * Method: Akaike onset picker: of all ways to cut a stretch in two parts of constant variance, the likeliest
 * (N. Maeda, A method for reading and checking phase times in autoprocessing system of seismic wave data, 1985). Both
 * variances are taken over a floor, a part of the sound's own height, below which nothing counts. A floor of two fifths finds
 * the blow among weaker sounds; from 12 ms before it on, a floor of a tenth finds the foot: lossy coding smears a faint copy of
 * a blow over up to 20 ms before it (pre-echo), and that stays below. What hides below floor and noise is added back: a rise
 * that grows like t to t² has been going on for a to √a of its duration when it reaches the part a of its height.
 *
 * @param samples a sound; frequencies near half of `rateHz` set how sharp the pick can be
 * @param rateHz samples per second of real time
 * @param roughS where the onset is within about 10 ms, s after the first sample
 * @returns the start of the rise; null when the stretch is silent or holds fewer than eight samples. The sd joins the hidden
 *   part of the rise, how far the cut moves with the floor from a twentieth to two fifths (much for strong pre-echo or a
 *   sound just before), the spread of the criterion's weights, a third of a sample, and 0.2 ms because a plank's end does not
 *   land all at once
 */
export function pickOnset(samples: Float32Array, rateHz: number, roughS: number): OnsetPick | null {
  const rough = stretchOf(samples, (roughS - BEFORE_S) * rateHz, (roughS + AFTER_S) * rateHz)
  const peak = loudest(rough.part, Math.max(2, Math.round(PEAK_LOOK_S * rateHz)))
  if (rough.part.length < FEWEST || peak === 0) return null
  const blow = rough.from + likeliestCut(rough.part, peak * FEET.high ** 2).at
  const near = stretchOf(samples, blow - Math.max(NEAR_S * rateHz, FEWEST), (roughS + AFTER_S) * rateHz)
  if (near.part.length < FEWEST) return null
  const [low, middle] = [FEET.low, FEET.middle].map((foot) => likeliestCut(near.part, peak * foot ** 2)) as [Cut, Cut]
  const seenFrom = Math.min(1, Math.sqrt(middle.before / peak))
  const rise = riseLength(near.part, middle.at, Math.sqrt(peak))
  const hidden = (rise * (seenFrom + Math.sqrt(seenFrom))) / 2
  const hiddenSd = (rise * (Math.sqrt(seenFrom) - seenFrom)) / 2
  const earlier = earlierFoot(near.part.subarray(0, Math.round(blow) - near.from), peak)
  const moved = (blow - near.from - Math.min(low.at, earlier)) / 2
  return {
    atS: (near.from + middle.at - hidden) / rateHz,
    sdS: Math.hypot(LANDING_SD_S, Math.hypot(hiddenSd, moved, middle.sd, 1 / 3) / rateHz),
  }
}

/** Where an earlier, weaker part of the blow or a sound just before it sets in; the end of the stretch if there is none. */
function earlierFoot(beforeBlow: Float32Array, peak: number): number {
  if (beforeBlow.length < FEWEST) return beforeBlow.length
  const { at, before } = likeliestCut(beforeBlow, peak * FEET.low ** 2)
  const since = beforeBlow.subarray(Math.round(at))
  const level = since.reduce((sum, value) => sum + value * value, 0) / Math.max(1, since.length)
  return level > Math.max(peak * FEET.middle ** 2, EARLIER_RISE * before) ? at : beforeBlow.length
}

function stretchOf(
  samples: Float32Array,
  from: number,
  to: number,
): { readonly from: number; readonly part: Float32Array } {
  const first = Math.max(0, Math.round(from))
  return { from: first, part: samples.subarray(first, Math.max(first, Math.round(to))) }
}

/** Largest mean square over `look` samples. */
function loudest(samples: Float32Array, look: number): number {
  let [sum, most] = [0, 0]
  for (let i = 0; i < samples.length; i++) {
    sum += (samples[i] ?? 0) ** 2 - (i >= look ? (samples[i - look] ?? 0) ** 2 : 0)
    most = Math.max(most, sum / look)
  }
  return most
}

/** Samples from a place to the first one that reaches an amplitude. */
function riseLength(samples: Float32Array, at: number, amplitude: number): number {
  return Math.max(
    0,
    samples.subarray(Math.floor(at)).findIndex((value) => Math.abs(value) >= amplitude),
  )
}

/** Where to cut, under the criterion's weights: mean place and sd in samples, and the mean square before it, floor included. */
interface Cut {
  readonly at: number
  readonly sd: number
  readonly before: number
}

function likeliestCut(samples: Float32Array, floor: number): Cut {
  const n = samples.length
  const energy = new Float64Array(n + 1)
  for (let i = 0; i < n; i++) energy[i + 1] = (energy[i] ?? 0) + (samples[i] ?? 0) ** 2
  const total = energy[n] ?? 0
  const before = (k: number) => (energy[k] ?? 0) / k + floor
  const after = (k: number) => (total - (energy[k] ?? 0)) / (n - k) + floor
  const criterion = Float64Array.from({ length: n }, (_, k) =>
    k < 2 || k > n - 2 ? Infinity : k * Math.log(before(k)) + (n - k) * Math.log(after(k)),
  )
  const best = criterion.reduce((a, b) => Math.min(a, b), Infinity)
  let [weights, mean, square] = [0, 0, 0]
  criterion.forEach((value, k) => {
    const weight = Math.exp((best - value) / 2)
    weights += weight
    mean += weight * k
    square += weight * k * k
  })
  const at = mean / weights
  return { at, sd: Math.sqrt(Math.max(0, square / weights - at * at)), before: before(Math.round(at)) }
}

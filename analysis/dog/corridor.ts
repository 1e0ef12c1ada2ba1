import type { ContactBand } from './contact-band.ts'
import type { Foot } from './feet.ts'

/** Where along the plank the dog's middle is, frame by frame, m; a rough path that says which feet are the dog's. */
export type Corridor = Float64Array

/** A dog's paws stay within this distance of its middle, m; a giant breed stretched out. */
export const REACH_M = 0.65
const STEP_M = 0.1
const BEYOND_M = 1.2
/** No dog is faster on a seesaw, m/s. */
const FASTEST_MPS = 7

/**
 * The path that gathers most of the standing feet without jumping: the best way through time by dynamic programming
 * (Viterbi 1967).
 *
 * @param feet candidates for paws; @param weightOf how much each counts, 0-1 (a person's foot little)
 * @param band the contact band that it was found in
 * @param lengthM length of the plank, m
 * @returns one value a frame, m along; before the first and after the last foot it stays where it was
 */
export function dogCorridor(
  band: ContactBand,
  feet: readonly Foot[],
  lengthM: number,
  weightOf: (foot: Foot) => number,
): Corridor {
  const frames = band.ptsS.length
  const places = Math.round((lengthM + 2 * BEYOND_M) / STEP_M) + 1
  const placeM = (p: number) => -BEYOND_M + p * STEP_M
  const reward = new Float32Array(frames * places)
  for (const foot of feet) {
    const weight = weightOf(foot) * Math.min(1, foot.strength / 4)
    if (weight <= 0) continue
    for (let k = foot.fromFrame; k <= foot.toFrame; k++) {
      const dt = k > 0 ? band.ptsS[k]! - band.ptsS[k - 1]! : 1 / 30
      for (let p = 0; p < places; p++) {
        const far = Math.abs(placeM(p) - foot.alongM)
        if (far < REACH_M) reward[k * places + p]! += weight * dt * (1 - 0.5 * (far / REACH_M) ** 2)
      }
    }
  }
  const best = new Float32Array(frames * places)
  const from = new Int16Array(frames * places)
  for (let p = 0; p < places; p++) best[p] = reward[p]!
  for (let k = 1; k < frames; k++) {
    const dt = band.ptsS[k]! - band.ptsS[k - 1]!
    const reach = Math.max(1, Math.round((FASTEST_MPS * dt) / STEP_M))
    for (let p = 0; p < places; p++) {
      let top = -Infinity
      let source = p
      for (let q = Math.max(0, p - reach); q <= Math.min(places - 1, p + reach); q++) {
        // Moving costs a little, so that the path rests where nothing is seen.
        const v = best[(k - 1) * places + q]! - 0.01 * Math.abs(p - q) * STEP_M
        if (v > top) {
          top = v
          source = q
        }
      }
      best[k * places + p] = top + reward[k * places + p]!
      from[k * places + p] = source
    }
  }
  const path = new Float64Array(frames)
  let p = 0
  for (let q = 1; q < places; q++) if (best[(frames - 1) * places + q]! > best[(frames - 1) * places + p]!) p = q
  for (let k = frames - 1; k >= 0; k--) {
    path[k] = placeM(p)
    p = from[k * places + p]!
  }
  return path
}

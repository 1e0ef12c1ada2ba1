import type { SeesawCamera } from '../calibration/seesaw-camera.ts'
import type { CameraMotion } from '../camera/camera-motion.ts'
import { multiply3 } from '../camera/rotation.ts'
import type { Frame } from '../clip/frame.ts'
import { sampleColour } from '../clip/sampling.ts'
import type { Background } from './background.ts'
import { ExpectedPicture } from './expected-picture.ts'
import { tukeyWeight } from '../numeric/robust.ts'
import type { PlankAppearance } from './plank-appearance.ts'

/** The board as found in one frame. */
export interface BoardSight {
  readonly angleRad: number
  /** Independent error of this frame, 1 sd, rad. */
  readonly sdRad: number
  /** How far the plank lies above where the camera's motion puts it, m; along its normal. */
  readonly shiftM: number
  /** Share of the plank's edge that agreed, 0-1. */
  readonly agreed: number
  /** Where the upper and the lower edge lie, for refining the calibration; null unless asked for. */
  readonly edges: BoardEdges | null
}

/** Shift and slope of the plank's long edges from where they should be; null for one that is not seen well. */
export interface BoardEdges {
  readonly top: EdgeFit | null
  readonly bottom: EdgeFit | null
}

/** A straight edge's offset from expectation: at mid length (m) and per m along (rad), each with 1 sd. */
export interface EdgeFit {
  readonly offsetM: number
  readonly offsetSdM: number
  readonly slopeRad: number
  readonly slopeSdRad: number
}

/** Grey levels by which the expected picture may be off beyond the sensor's noise. */
const MODEL_SD = 4
const NOISE_SD = 2.5
/** Samples across an edge: from -4 to 4 decoded px. */
const REACH_PX = 4
/** How much blunter than the scene an edge of the expected picture is, decoded px. */
export const BLUR_PX = 0.75
/** How far apart columns are looked at, decoded px. */
const COLUMN_STEP_PX = 2.5
/** Neither end is looked at nearer than this, m: it may be hidden in grass. */
const END_MARGIN_M = 0.03
/** The angle is settled once it moves less than this, rad. */
const SETTLED_RAD = 1e-4
/** Fewer samples than this are no sight of the plank. */
const LEAST_SAMPLES = 30
/** The bracket hides the lower edge this far to either side of the pivot, m. */
const BRACKET_M = 0.35
/** A spread of the empty scene beyond this is taken for this, grey levels. */
const MOST_SPREAD = 40
/** A column is left out where its edge is known no better than this, decoded px, or fits its picture so badly, sd squared. */
const MOST_SD_PX = 1.5
const MOST_MISFIT = 9
/** ... and is not believed to more than this, decoded px. */
const LEAST_SD_PX = 0.1
/** Median absolute deviation of a normal distribution of sd 1 is 1 / 1.48. */
const SD_BY_MAD = 1.48
/** From this robust weight on a column agrees with the fitted line; below the other it is an outlier. */
const AGREES = 0.2
const OUTLIER = 0.05
/** Fewer columns of one edge make no line. */
const LEAST_COLUMNS = 20

/**
 * Finds the board's angle in one frame after another by comparing the plank's outline with what the calibrated camera
 * should see of it, column by column; columns hidden by dog, handler or shadow are told by their misfit and left out.
 */
export class BoardFollower {
  readonly #camera: SeesawCamera
  readonly #background: Background
  readonly #appearance: PlankAppearance
  readonly #pxM: number
  readonly #blurM: number
  readonly #columns: Float64Array
  readonly #shiftSdM: number

  /**
   * @param pxM size of a decoded pixel at the plank, m
   * @param shiftSdM how well the camera's motion fixes the plank's height in the picture, 1 sd, m
   */
  constructor(
    camera: SeesawCamera,
    background: Background,
    appearance: PlankAppearance,
    pxM: number,
    shiftSdM: number,
  ) {
    this.#camera = camera
    this.#background = background
    this.#appearance = appearance
    this.#pxM = pxM
    this.#blurM = BLUR_PX * pxM
    this.#shiftSdM = shiftSdM
    const step = COLUMN_STEP_PX * pxM
    const count = Math.floor((camera.lengthM - 2 * END_MARGIN_M) / step)
    this.#columns = Float64Array.from({ length: count }, (_, i) => END_MARGIN_M + (i + 0.5) * step)
  }

  /**
   * The board's angle in a frame.
   *
   * @param candidates angles to start from, rad; the best-looking one is refined
   * @param withEdges whether each edge is wanted by itself, too
   * @returns null where the plank cannot be made out
   */
  find(frame: Frame, motion: CameraMotion, candidates: readonly number[], withEdges = false): BoardSight | null {
    let start = candidates[0]!
    if (candidates.length > 1) {
      let least = Infinity
      for (const angle of candidates) {
        const misfit = this.#misfit(frame, motion, angle)
        if (misfit < least) {
          least = misfit
          start = angle
        }
      }
    }
    let angle = start
    let shiftM = 0
    let sight: BoardSight | null = null
    for (let round = 0; round < 5; round++) {
      const next = this.#refine(frame, motion, angle, shiftM, withEdges)
      if (next === null) return null
      const moved = Math.abs(next.angleRad - angle)
      angle = next.angleRad
      shiftM = next.shiftM
      sight = next
      if (moved < SETTLED_RAD) break
    }
    return sight
  }

  /** Mean clipped colour difference between frame and expectation around the plank, in sd: about 1 when right. */
  #misfit(frame: Frame, motion: CameraMotion, angleRad: number): number {
    const expected = new ExpectedPicture(this.#camera, this.#background, this.#appearance, angleRad, this.#blurM)
    const map = multiply3(motion.frameFromReference, this.#camera.homographyAt(angleRad, 0))
    const want = new Float32Array(7)
    const got = new Float32Array(3)
    let sum = 0
    let count = 0
    for (let i = 0; i < this.#columns.length; i += 4) {
      const along = this.#columns[i]!
      const middle = (expected.topM(along) + expected.bottomM(along)) / 2
      const half = (expected.topM(along) - expected.bottomM(along)) / 2
      for (let j = -2; j <= 2; j++) {
        const above = middle + (j / 2) * (half + COLUMN_STEP_PX * this.#pxM)
        expected.sample(along, above, want, 0)
        if (Number.isNaN(want[0]!) || !sampleThrough(map, frame, along, above, got)) continue
        let d = 0
        for (let c = 0; c < 3; c++) d += ((c === 0 ? got[0]! / motion.gain : got[c]!) - want[c]!) ** 2
        sum += Math.min(3, Math.sqrt(d) / (MODEL_SD + NOISE_SD + want[3]!))
        count++
      }
    }
    return count < LEAST_SAMPLES ? Infinity : sum / count
  }

  /** One round: shift of each column's two edges, then a robust straight line through them. */
  #refine(frame: Frame, motion: CameraMotion, angleRad: number, shiftM: number, withEdges: boolean): BoardSight | null {
    const expected = new ExpectedPicture(this.#camera, this.#background, this.#appearance, angleRad, this.#blurM)
    const map = multiply3(motion.frameFromReference, this.#camera.homographyAt(angleRad, 0))
    const want = new Float32Array(7)
    const got = new Float32Array(3)
    const half = this.#camera.lengthM / 2
    const observations: EdgeObservation[] = []
    for (let i = 0; i < this.#columns.length; i++) {
      const along = this.#columns[i]!
      for (const edge of ['top', 'bottom'] as const) {
        // The bracket hides the lower edge around the pivot.
        if (edge === 'bottom' && Math.abs(along - half) < BRACKET_M) continue
        const at = edge === 'top' ? expected.topM(along) : expected.bottomM(along)
        let pull = 0
        let grip = 0
        let squares = 0
        let count = 0
        for (let j = -REACH_PX; j <= REACH_PX; j++) {
          const above = at + j * this.#pxM
          expected.sample(along, above, want, 0)
          if (Number.isNaN(want[0]!) || !sampleThrough(map, frame, along, above + shiftM, got)) continue
          const variance = NOISE_SD ** 2 + MODEL_SD ** 2 + Math.min(want[3]!, MOST_SPREAD) ** 2
          for (let c = 0; c < 3; c++) {
            const d = (c === 0 ? got[0]! / motion.gain : got[c]!) - want[c]!
            const g = want[4 + c]!
            pull += (g * d) / variance
            grip += (g * g) / variance
            squares += (d * d) / variance
          }
          count++
        }
        if (count < REACH_PX || grip <= 0) continue
        const sdM = 1 / Math.sqrt(grip)
        if (sdM > MOST_SD_PX * this.#pxM) continue
        const offsetM = pull / grip
        const left = (squares - pull * offsetM) / (3 * count)
        if (Math.abs(offsetM) > 3 * this.#pxM || left > MOST_MISFIT) continue
        observations.push({
          lever: along - half,
          offsetM: offsetM + shiftM,
          sdM: Math.hypot(sdM, LEAST_SD_PX * this.#pxM),
          edge,
          left,
        })
      }
    }
    if (observations.length < FEWEST_COLUMNS) return null
    const fit = robustLine(observations, this.#shiftSdM, 2 * this.#columns.length)
    if (fit === null) return null
    return {
      // An end that lies lower than expected has turned further down: the exit end's lever is positive.
      angleRad: angleRad - fit.slope,
      sdRad: fit.slopeSd,
      shiftM: fit.offset,
      agreed: fit.agreed,
      edges: withEdges
        ? { top: edgeLine(observations, 'top', fit), bottom: edgeLine(observations, 'bottom', fit) }
        : null,
    }
  }
}

interface EdgeObservation {
  readonly lever: number
  readonly offsetM: number
  readonly sdM: number
  readonly edge: 'top' | 'bottom'
  readonly left: number
}

interface LineFit {
  readonly offset: number
  readonly slope: number
  readonly slopeSd: number
  readonly agreed: number
  readonly weights: Float64Array
}

/** Fewer columns of edges do not tell an angle. */
const FEWEST_COLUMNS = 12
/** In the first round, before the scatter is known, what is so many sds off counts half. */
const FIRST_SDS = 6
/** Rounds of weighting at most, and the move (rad and m) below which they end. */
const ROUNDS = 12
const SETTLED = 1e-6

/** Weighted line offset + slope * lever, Tukey weights, offset drawn to 0 with the given sd. */
function robustLine(observations: readonly EdgeObservation[], offsetSdM: number, possible: number): LineFit | null {
  let offset = 0
  let slope = 0
  let scale = 3
  const weights = new Float64Array(observations.length)
  const residuals = new Float64Array(observations.length)
  let n00 = 0
  let n01 = 0
  let n11 = 0
  for (let iteration = 0; iteration < ROUNDS; iteration++) {
    n00 = 1 / offsetSdM ** 2
    n01 = 0
    n11 = 1e-6
    let b0 = 0
    let b1 = 0
    for (let i = 0; i < observations.length; i++) {
      const o = observations[i]!
      const r = (o.offsetM - offset - slope * o.lever) / o.sdM
      residuals[i] = Math.abs(r)
      const w = iteration === 0 ? 1 / (1 + (r / FIRST_SDS) ** 2) : tukeyWeight(r / scale)
      weights[i] = w
      const p = w / o.sdM ** 2
      n00 += p
      n01 += p * o.lever
      n11 += p * o.lever * o.lever
      b0 += p * o.offsetM
      b1 += p * o.lever * o.offsetM
    }
    const det = n00 * n11 - n01 * n01
    if (!(det > 0)) return null
    const nextOffset = (n11 * b0 - n01 * b1) / det
    const nextSlope = (n00 * b1 - n01 * b0) / det
    const moved = Math.abs(nextSlope - slope) + Math.abs(nextOffset - offset)
    offset = nextOffset
    slope = nextSlope
    residuals.sort()
    scale = Math.max(1, SD_BY_MAD * residuals[residuals.length >> 1]!)
    if (iteration > 2 && moved < SETTLED) break
  }
  let agreed = 0
  for (const w of weights) if (w > AGREES) agreed++
  const det = n00 * n11 - n01 * n01
  // Neighbouring columns share their errors (background, lighting): about one in four is independent.
  return { offset, slope, slopeSd: 2 * scale * Math.sqrt(n00 / det), agreed: agreed / possible, weights }
}

/** The same line through one edge's columns alone, with the weights of the common fit's inliers. */
function edgeLine(observations: readonly EdgeObservation[], edge: 'top' | 'bottom', fit: LineFit): EdgeFit | null {
  const own = observations.filter((o, i) => o.edge === edge && fit.weights[i]! > OUTLIER)
  if (own.length < LEAST_COLUMNS) return null
  const line = robustLine(own, 1, own.length)
  if (line === null) return null
  const sd = line.slopeSd
  return { offsetM: line.offset, offsetSdM: sd, slopeRad: line.slope, slopeSdRad: sd }
}

function sampleThrough(map: Float64Array, frame: Frame, alongM: number, aboveM: number, out: Float32Array): boolean {
  const w = map[6]! * alongM + map[7]! * aboveM + map[8]!
  return sampleColour(
    frame,
    (map[0]! * alongM + map[1]! * aboveM + map[2]!) / w,
    (map[3]! * alongM + map[4]! * aboveM + map[5]!) / w,
    out,
    0,
  )
}

import { measured, type Estimate, withheld } from '../estimate.ts'
import { median, robustSd, tukeyWeight } from '../numeric/robust.ts'
import type { Rests } from '../ride/rests.ts'
import type { RestGrid, RestLook } from './rest-look.ts'

/** Looks on each side that are compared, at most. */
const MOST_LOOKS = 9
const FEWEST_LOOKS = 3
/** The camera's own motion may take up this much of a small shift, 1 sd, decoded px. */
const CAMERA_SD_PX = 0.15
/** A larger shift, decoded px, is not looked for. */
const REACH_PX = 12
const ROUNDS = 25
const SETTLED_PX = 0.005
/** Samples further off than this are hidden, or not of the plank; grey levels, and robust sds. */
const LEAST_SCALE = 3
/** Fewer samples in agreement show no plank. */
const FEWEST_SAMPLES = 200
/** The plank must be held in both directions: the weaker one by this share of the stronger, at least. */
const LEAST_HOLD = 1e-4
/** A start is looked for in such steps, so far across the plank; a point counts at most so much, levels. */
const START_STEP_PX = 1
const START_ABOVE_PX = 4
const START_CAP = 40
/** A point with more than this many grey levels a px tells where the plank is. */
const TELLING_SLOPE = 4
/** Of those, this share must look alike, within so many robust sds: else it is laid over wrongly, or hidden. */
const LEAST_AGREEING = 0.4
const AGREES_SCALES = 4
/** Samples this near an edge tell of it, px; the bracket hides the lower edge about the pivot, m. */
const EDGE_PX = 2
/** Further inside than this a point is on a face, px. */
const FACE_PX = 1.5
const BRACKET_M = 0.35

/**
 * How far the base has been pushed along the ground between the board's rest before the tip and its rest after it has
 * come back, told by the plank, which goes with it: its colours and outline are laid over one another.
 *
 * Only what is left of a shift is seen, in the direction of the plank. A base that hops in the bang and comes down where it
 * was, or slides towards the camera, is not.
 *
 * @param seen looks at the resting plank, and their lattice
 * @param rests null where the board does not come back to rest
 * @returns m, without a sign; withheld where one of both rests is not seen well
 */
export function baseShift(
  { looks, grid }: { readonly looks: readonly RestLook[]; readonly grid: RestGrid },
  rests: Rests | null,
): Estimate {
  if (rests === null) return NOT_BACK
  const within = ([fromS, toS]: readonly [number, number]) => looks.filter(({ ptsS }) => ptsS >= fromS && ptsS <= toS)
  const before = spread(within(rests.beforeS))
  const after = spread(within(rests.afterS))
  if (before.length < FEWEST_LOOKS || after.length < FEWEST_LOOKS) return NOT_BACK
  const reference = medianLook(before)
  const samples = samplesOf(reference, grid)
  const shiftsOf = (some: readonly RestLook[]) =>
    some.flatMap((look) => {
      const shift = laidOver(samples, look, grid)
      return shift === null ? [] : [forward(shift, look.angleRad) * grid.stepM]
    })
  const [then, now] = [shiftsOf(before), shiftsOf(after)]
  if (then.length < FEWEST_LOOKS || now.length < FEWEST_LOOKS) return HIDDEN
  const value = median(now) - median(then)
  const sd = Math.hypot(robustSd(then), robustSd(now), CAMERA_SD_PX * grid.stepM)
  const estimate = measured(Math.abs(value), sd)
  return { ...estimate, ci95: [Math.max(0, estimate.ci95[0]), estimate.ci95[1]] }
}

const NOT_BACK = withheld(
  'clip-ends',
  'The clip does not show the board at rest before the tip and back at rest after it.',
)
const HIDDEN = withheld('hidden', 'The resting plank is not seen well enough to tell whether the base has shifted.')

interface Shift {
  readonly alongPx: number
  readonly abovePx: number
}

/** Along the ground: the plank leans, its direction is (cos, -sin) of the board's angle and its normal (sin, cos). */
function forward({ alongPx, abovePx }: Shift, angleRad: number): number {
  return alongPx * Math.cos(angleRad) + abovePx * Math.sin(angleRad)
}

/** Some looks, evenly out of all. */
function spread(looks: readonly RestLook[]): readonly RestLook[] {
  const every = Math.max(1, looks.length / MOST_LOOKS)
  return Array.from({ length: Math.min(looks.length, MOST_LOOKS) }, (_, k) => looks[Math.floor(k * every)]!)
}

function medianLook(looks: readonly RestLook[]): Float32Array {
  const [first] = looks
  const values = new Float64Array(looks.length)
  return Float32Array.from(first!.yuv, (_, i) => {
    for (let k = 0; k < looks.length; k++) values[k] = looks[k]!.yuv[i]!
    return median(values)
  })
}

/** A point of the plank that is compared: its value, and how that changes along and above, per step. */
interface Sample {
  readonly column: number
  readonly row: number
  readonly channel: number
  readonly value: number
  readonly alongSlope: number
  readonly aboveSlope: number
  /** On the plank and not at its edge, where the ground behind shows through and does not go along. */
  readonly isFace: boolean
}

/** Points on the plank's faces, and about its edges. */
function samplesOf(reference: Float32Array, grid: RestGrid): readonly Sample[] {
  const { columns, rows, stepM, fromAlongM, fromAboveM, topM, bottomM, lengthM } = grid
  const samples: Sample[] = []
  for (let row = 1; row < rows - 1; row++) {
    for (let column = 1; column < columns - 1; column++) {
      const alongM = fromAlongM + column * stepM
      const aboveM = fromAboveM + row * stepM
      if (alongM < -stepM || alongM > lengthM + stepM) continue
      const share = alongM / lengthM
      const overTopPx = (aboveM - (topM[0] + share * (topM[1] - topM[0]))) / stepM
      const overBottomPx = (aboveM - (bottomM[0] + share * (bottomM[1] - bottomM[0]))) / stepM
      if (overTopPx > EDGE_PX || overBottomPx < -EDGE_PX) continue
      if (overBottomPx < EDGE_PX && Math.abs(alongM - lengthM / 2) < BRACKET_M) continue
      const isFace = overTopPx < -FACE_PX && overBottomPx > FACE_PX
      const at = 3 * (row * columns + column)
      if (reference[at] === 0) continue
      for (let channel = 0; channel < 3; channel++) {
        const i = at + channel
        // At an edge a slope along the plank may be the ground's, which stays where it is.
        const alongSlope = isFace ? (reference[i + 3]! - reference[i - 3]!) / 2 : 0
        const aboveSlope = (reference[i + 3 * columns]! - reference[i - 3 * columns]!) / 2
        samples.push({ column, row, channel, value: reference[i]!, alongSlope, aboveSlope, isFace })
      }
    }
  }
  return samples
}

/**
 * How far the plank of a look lies from that of the reference, by the method of Lucas and Kanade (IJCAI 1981) with robust
 * weights.
 *
 * @returns null where it is hidden, or smooth along one direction
 */
function laidOver(samples: readonly Sample[], look: RestLook, grid: RestGrid): Shift | null {
  const { columns, rows } = grid
  const { yuv } = look
  const off = new Float64Array(samples.length)
  let { alongPx, abovePx } = nearest(samples, look, grid)
  for (let round = 0; round < ROUNDS; round++) {
    const sizes: number[] = []
    for (const [k, { column, row, channel, value }] of samples.entries()) {
      off[k] = valueAt(yuv, columns, rows, column + alongPx, row + abovePx, channel) - value
      if (!Number.isNaN(off[k])) sizes.push(Math.abs(off[k]))
    }
    if (sizes.length < FEWEST_SAMPLES) return null
    const scale = Math.max(LEAST_SCALE, 1.48 * median(sizes))
    let [n00, n01, n11, b0, b1, agreed] = [0, 0, 0, 0, 0, 0]
    for (const [k, { alongSlope, aboveSlope }] of samples.entries()) {
      const difference = off[k]!
      if (Number.isNaN(difference)) continue
      // Early rounds are still far off: an edge that is not yet in its place is no outlier.
      const weight = round < 4 ? 1 / (1 + (difference / (8 * scale)) ** 2) : tukeyWeight(difference / scale)
      if (weight > 0) agreed++
      n00 += weight * alongSlope * alongSlope
      n01 += weight * alongSlope * aboveSlope
      n11 += weight * aboveSlope * aboveSlope
      b0 -= weight * alongSlope * difference
      b1 -= weight * aboveSlope * difference
    }
    const determinant = n00 * n11 - n01 * n01
    if (agreed < FEWEST_SAMPLES || !(determinant > LEAST_HOLD * n00 * n11) || n00 < LEAST_HOLD * n11) return null
    const [along, above] = [(n11 * b0 - n01 * b1) / determinant, (n00 * b1 - n01 * b0) / determinant]
    alongPx += along
    abovePx += above
    if (Math.hypot(alongPx, abovePx) > REACH_PX) return null
    if (round > 4 && Math.hypot(along, above) < SETTLED_PX) {
      return agreeing(samples, off, scale) < LEAST_AGREEING ? null : { alongPx, abovePx }
    }
  }
  return null
}

/**
 * The shift, in steps, that looks most alike: the search above finds no way over a border of colours. First across the
 * plank by its edges, then along it by its faces.
 */
function nearest(samples: readonly Sample[], { yuv }: RestLook, { columns, rows }: RestGrid): Shift {
  const likest = (some: readonly Sample[], reachPx: number, shiftOf: (px: number) => Shift): Shift => {
    let best = shiftOf(0)
    let least = Infinity
    for (let px = -reachPx; px <= reachPx; px += START_STEP_PX) {
      const { alongPx, abovePx } = shiftOf(px)
      let sum = 0
      for (const { column, row, channel, value } of some) {
        const seen = valueAt(yuv, columns, rows, column + alongPx, row + abovePx, channel)
        sum += Number.isNaN(seen) ? START_CAP / 2 : Math.min(START_CAP, Math.abs(seen - value))
      }
      if (sum >= least) continue
      least = sum
      best = { alongPx, abovePx }
    }
    return best
  }
  const edges = samples.filter((sample) => !sample.isFace && isTelling(sample))
  const faces = samples.filter(({ isFace, alongSlope }) => isFace && Math.abs(alongSlope) > TELLING_SLOPE)
  const { abovePx } = likest(edges, START_ABOVE_PX, (px) => ({ alongPx: 0, abovePx: px }))
  return likest(faces, REACH_PX, (alongPx) => ({ alongPx, abovePx }))
}

/** Share of the points at edges and borders that look alike once laid over. */
function agreeing(samples: readonly Sample[], off: Float64Array, scale: number): number {
  let [agreed, all] = [0, 0]
  for (const [k, sample] of samples.entries()) {
    if (!isTelling(sample)) continue
    all++
    if (Math.abs(off[k]!) < AGREES_SCALES * scale) agreed++
  }
  return all === 0 ? 0 : agreed / all
}

function isTelling({ alongSlope, aboveSlope }: Sample): boolean {
  return Math.hypot(alongSlope, aboveSlope) > TELLING_SLOPE
}

function valueAt(yuv: Uint8Array, columns: number, rows: number, x: number, y: number, channel: number): number {
  const [c, r] = [Math.floor(x), Math.floor(y)]
  if (!(c >= 0 && r >= 0 && c < columns - 1 && r < rows - 1)) return NaN
  const at = 3 * (r * columns + c)
  if (yuv[at] === 0) return NaN
  const i = at + channel
  const [fx, fy] = [x - c, y - r]
  const top = yuv[i]! + fx * (yuv[i + 3]! - yuv[i]!)
  const below = i + 3 * columns
  const bottom = yuv[below]! + fx * (yuv[below + 3]! - yuv[below]!)
  return top + fy * (bottom - top)
}

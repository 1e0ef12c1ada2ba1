import type { PictureSizes } from '../board-sizes/picture-sizes.ts'
import { measured, type Estimate, type Measured } from '../estimate.ts'
import { median, quantile, robustSd } from '../numeric/robust.ts'
import { MOVED_M } from '../ride/board-events.ts'

/** A motion stands out of the frames' noise by so many sds (ours). */
const STANDS_OUT = 5
/** From frame to frame where a clip has one frame only, s (25 a second). */
const USUAL_FRAME_S = 0.04
/** So much of a clip surely shows the rest where nobody saw the weight come, s; and so many frames at least (ours). */
const SURELY_AT_REST_S = 0.4
const FEWEST_AT_REST = 3
/** As far down as any: this share of the frames lies less far (ours). */
const FURTHEST = { landing: 0.98, ground: 0.95 } as const
/** Frames this near the furthest may be on the ground, rad, and sds of the noise (ours). */
const NEAR_GROUND_RAD = { landing: 0.015, ground: 0.002, sds: 3 } as const
/** A landing is taken for one from this share of the rest's slope on (ours: level ground within 3 deg). */
const AS_STEEP = 0.85
/** The way back ends so near the rest, rad: the bump is no part of it (ours). */
const BACK_HOME_RAD = 0.03

/** What is read of one drop test, from whatever program. Angles in deg, 0 level, negative with the entry end down. */
export interface DropRecord {
  readonly massKg: number
  /** Where the weight lay, m along from the entry end. */
  readonly massAtM: number
  readonly placed: Estimate | null
  readonly released: Estimate | null
  readonly grounded: Estimate | null
  /** From placing to the landing, and from letting go to it; used where there are no frames. */
  readonly fallFromPlacedS: Estimate | null
  readonly fallFromReleasedS: Estimate | null
  /** True when the exit end sank by more than 50 mm; null when nobody says. */
  readonly moved: boolean | null
  /** Days since 1970-01-01; null or absent: not known. */
  readonly day?: number | null
  /** How high the exit end springs back, m. */
  readonly bounceM?: Estimate | null
  /** The board's sizes as the marks of the clip show them, with one of its drops. */
  readonly sizes?: PictureSizes | null
  readonly ptsS: readonly number[]
  readonly boardAngleDeg: readonly (number | null)[]
}

/** One free motion of the board from rest, as frames show it. */
export interface FreeSwing {
  readonly massKg: number
  /** m along from the entry end; the place does not matter without a weight. */
  readonly massAtM: number
  /** 1 falling, -1 coming back without the weight. */
  readonly towards: 1 | -1
  readonly timesS: Float64Array
  /** rad. The first of them show the board at rest. */
  readonly anglesRad: Float64Array
  /** Board angle at rest before it moves, rad. */
  readonly restRad: number
  /** When it was let go, if that was seen. */
  readonly releasedS: Measured | null
  /** Time from frame to frame, s. */
  readonly frameS: number
}

/** What one drop tells of its board. */
export interface DropCurve {
  readonly massKg: number
  readonly massAtM: number
  /** Null when the frames do not tell. */
  readonly moved: boolean | null
  /** Angle with the entry end down, rad; null without frames. */
  readonly restRad: number | null
  /** Angle with the exit end down, rad; null when that was not seen. */
  readonly groundRad: number | null
  /** The fall, and the way back if the weight was taken off while the clip ran. */
  readonly swings: readonly FreeSwing[]
  /** From placing to letting go, s. */
  readonly handS: Measured | null
  /** The fall as it was timed, s. */
  readonly fallFromPlacedS: Measured | null
  readonly fallFromReleasedS: Measured | null
}

const RADIANS = Math.PI / 180
/** Fewer frames of a motion than this tell nothing of it (ours). */
const FEWEST_FRAMES = 6
/** Frames at rest before a motion that are fitted with it, s (ours). */
const REST_S = 0.6

/**
 * Cuts a drop test into the free motions that physics can be fitted to.
 *
 * @param drop times in s, angles in deg
 * @param lengthM of the plank, m
 * @returns angles in rad; no swings where the board did not move or too few frames show it
 */
export function dropCurve(drop: DropRecord, lengthM: number): DropCurve {
  const seen = seenFrames(drop)
  const { massKg, massAtM } = drop
  const timed = {
    handS: handTime(drop),
    fallFromPlacedS: measuredOnly(drop.fallFromPlacedS),
    fallFromReleasedS: measuredOnly(drop.fallFromReleasedS),
  }
  const nothing = { massKg, massAtM, moved: drop.moved, restRad: null, groundRad: null, swings: [], ...timed }
  if (seen.timesS.length < FEWEST_FRAMES) return nothing
  const noiseRad = frameNoise(seen.anglesRad)
  const restRad = median(seen.anglesRad.subarray(0, restFrames(drop, seen)))
  const movedRad = Math.max(MOVED_M / (lengthM / 2) / Math.cos(restRad), STANDS_OUT * noiseRad)
  const isDown = (k: number) => seen.anglesRad[k]! > restRad + movedRad
  const down = seen.timesS.findIndex((_, k) => isDown(k) && (k + 1 >= seen.timesS.length || isDown(k + 1)))
  const moved = drop.moved ?? down >= 0
  if (down < 0 || !moved) return { ...nothing, moved, restRad }
  const landed = landedFrame(drop, seen, down, restRad, noiseRad)
  const groundRad = landed === null ? null : groundAngle(seen, landed, noiseRad)
  const fall = swing(seen, 0, landed ?? seen.timesS.length, down, restRad, {
    massKg,
    massAtM,
    towards: 1,
    releasedS: measuredOnly(drop.released),
  })
  const back = landed === null || groundRad === null ? null : wayBack(seen, landed, groundRad, restRad, movedRad)
  return { ...nothing, moved, restRad, groundRad, swings: [fall, back].filter((s) => s !== null) }
}

interface Seen {
  readonly timesS: Float64Array
  readonly anglesRad: Float64Array
  readonly frameS: number
}

function seenFrames({ ptsS, boardAngleDeg }: DropRecord): Seen {
  const known = ptsS.flatMap((timeS, k) => {
    const angle = boardAngleDeg[k]
    return typeof angle === 'number' ? [[timeS, angle * RADIANS] as const] : []
  })
  const timesS = Float64Array.from(known, ([timeS]) => timeS)
  return {
    timesS,
    anglesRad: Float64Array.from(known, ([, angle]) => angle),
    frameS: median(timesS.subarray(1).map((timeS, k) => timeS - timesS[k]!)) || USUAL_FRAME_S,
  }
}

/** Scatter from frame to frame, rad: what second differences leave of a smooth motion. */
function frameNoise(anglesRad: Float64Array): number {
  const second = anglesRad.subarray(2).map((angle, k) => angle - 2 * anglesRad[k + 1]! + anglesRad[k]!)
  return second.length === 0 ? 0 : robustSd(second) / Math.sqrt(6)
}

/** How many frames surely show the board at rest: those before the weight was let go, at least the first few. */
function restFrames(drop: DropRecord, { timesS }: Seen): number {
  const until =
    drop.released?.kind === 'measured'
      ? drop.released.value - 2 * drop.released.sd
      : drop.placed?.kind === 'measured'
        ? drop.placed.value
        : timesS[0]! + SURELY_AT_REST_S
  const count = timesS.findIndex((timeS) => timeS > until)
  return Math.min(timesS.length, Math.max(FEWEST_AT_REST, count < 0 ? timesS.length : count))
}

/** The first frame that may show the exit end on the ground already; null when it never got there. */
function landedFrame(drop: DropRecord, seen: Seen, down: number, restRad: number, noiseRad: number): number | null {
  const { timesS, anglesRad } = seen
  if (drop.grounded?.kind === 'measured') {
    const fromS = drop.grounded.value - 2 * drop.grounded.sd
    const frame = timesS.findIndex((timeS) => timeS >= fromS)
    return frame < 0 ? null : frame
  }
  if (drop.grounded?.kind === 'withheld' && drop.grounded.reason === 'never-landed') return null
  const furthest = quantile(anglesRad.subarray(down), FURTHEST.landing)
  // A board on level ground comes down about as steep as it rested.
  if (furthest < -AS_STEEP * restRad) return null
  const nearRad = Math.max(NEAR_GROUND_RAD.landing, NEAR_GROUND_RAD.sds * noiseRad)
  return anglesRad.findIndex((angle, k) => k >= down && angle > furthest - nearRad)
}

/** The angle on the ground: the middle of the frames that are as far down as any, but for noise. */
function groundAngle({ anglesRad, timesS }: Seen, landed: number, noiseRad: number): number {
  const after = anglesRad.subarray(landed).filter((_, k) => timesS[landed + k]! < timesS[landed]! + 2)
  const furthest = quantile(after, FURTHEST.ground)
  return median(
    after.filter((angle) => angle > furthest - Math.max(NEAR_GROUND_RAD.ground, NEAR_GROUND_RAD.sds * noiseRad)),
  )
}

/** The board on its way back to the entry end, from the ground to its rest, if the clip shows all of it. */
function wayBack(seen: Seen, landed: number, groundRad: number, restRad: number, movedRad: number): FreeSwing | null {
  const { anglesRad } = seen
  const home = anglesRad.findIndex((angle, k) => k > landed && angle < restRad + movedRad)
  if (home < 0) return null
  let leaves = home
  while (leaves > landed && anglesRad[leaves]! < groundRad - movedRad) leaves--
  if (leaves <= landed) return null
  // The bounce of the landing and the bump at home are no part of it.
  const end = anglesRad.findIndex((angle, k) => k > leaves && angle < restRad + BACK_HOME_RAD)
  return swing(seen, landed + 2, end < 0 ? home : end, leaves, groundRad, {
    massKg: 0,
    massAtM: 0,
    towards: -1,
    releasedS: null,
  })
}

/** The frames from a little rest before `moving` on until `to` (not itself), within `from` and `to`. */
function swing(
  { timesS, anglesRad, frameS }: Seen,
  from: number,
  to: number,
  moving: number,
  restRad: number,
  what: Pick<FreeSwing, 'massKg' | 'massAtM' | 'towards' | 'releasedS'>,
): FreeSwing | null {
  const start = Math.min(timesS[moving]! - REST_S, (what.releasedS?.value ?? Infinity) - REST_S / 2)
  const first = Math.max(
    from,
    timesS.findIndex((timeS) => timeS >= start),
  )
  if (to - moving < FEWEST_FRAMES - 2 || to - first < FEWEST_FRAMES) return null
  return { ...what, timesS: timesS.slice(first, to), anglesRad: anglesRad.slice(first, to), restRad, frameS }
}

function measuredOnly(estimate: Estimate | null): Measured | null {
  return estimate?.kind === 'measured' ? estimate : null
}

function handTime({ placed, released }: DropRecord): Measured | null {
  if (placed?.kind !== 'measured' || released?.kind !== 'measured') return null
  return measured(released.value - placed.value, Math.hypot(placed.sd, released.sd))
}

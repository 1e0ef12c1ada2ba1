import type { BoardTrack } from '../board/board-track.ts'
import { DAMAGED_HERE, isNearDamage } from '../clip/damage.ts'
import { measured, withheld, type Estimate, type Withheld } from '../estimate.ts'
import { boardCurve, turnForDrop, type BoardCurve } from './board-curve.ts'
import { findBounce } from './bounce.ts'
import { groundLevel } from './ground-level.ts'
import { findLanding, type GroundLevel, type Landing } from './landing.ts'
import { findTipStart } from './tip-start.ts'

/** What the board itself did, timed between frames. Times in s of real time. */
export interface BoardEvents {
  readonly tipStart: Estimate
  readonly grounded: Estimate
  /** How high the exit end springs back, m. */
  readonly bounceM: Estimate
  /** True when the exit end sank by more than 50 mm; null when that was not seen. */
  readonly moved: boolean | null
  /** Board angle at the first contact with the ground, rad. */
  readonly groundedAngleRad: Estimate
}

/** The board has moved when its exit end has sunk by more than this, m. */
export const MOVED_M = 0.05

/** A plank on level ground comes down as steep as it rested; lawns and fields are level to about this, 1 sd, rad (1 deg). */
const GROUND_SLOPE_SD_RAD = 0.0175

/** A board that was not followed for longer than this may have done anything meanwhile, s. */
const LONG_GAP_S = 0.3

/**
 * Tip start, landing and spring back of the exit end.
 *
 * @param track the board's angle through the clip, rad
 * @returns every event measured, or withheld: `never-tipped` when the exit end never sank by 50 mm, `never-landed` when
 *   it came back without touching the ground, `clip-ends` when the clip starts or stops in between, `hidden` or
 *   `out-of-picture` when the board was not followed, `damaged` in or beside damaged pictures, `not-clear` when touching and not touching fit equally well
 */
export function findBoardEvents(track: BoardTrack): BoardEvents {
  return withoutDamage(track, eventsOf(track))
}

/** An event beside damage is timed by frames on one side only, or by none. */
const BESIDE_DAMAGE_S = 0.05
const BESIDE_DAMAGE_FRAMES = 3
/** Odds of having touched the ground from which a landing is sure, and from which it may be one. */
const SURELY_TOUCHED = 0.9
const MAYBE_TOUCHED = 0.1
/** The board has come back up from its lowest place by this, rad, and comes down no faster than this, rad/s. */
const CAME_BACK_RAD = 0.02
const HARDLY_FALLING_RADS = 0.05
/** The fall is under way once the exit end has sunk by this, m. */
const FALLING_M = 0.005
/** What lies within a few frames is at one moment: s, and frames. */
const FEW_S = 0.06
const FEW_FRAMES = 3
/** A longer step than this many frames is a gap. */
const GAP_FRAMES = 2.5

/** The events as seen, but those in damaged pictures or beside them, and those lost in them, are withheld. */
function withoutDamage(track: BoardTrack, events: BoardEvents): BoardEvents {
  const { damagedS, ptsS } = track
  if (damagedS === undefined || damagedS.length === 0) return events
  const [firstS, lastS] = [ptsS[0]!, ptsS[ptsS.length - 1]!]
  const frameS = (lastS - firstS) / Math.max(1, ptsS.length - 1)
  const marginS = Math.max(BESIDE_DAMAGE_S, BESIDE_DAMAGE_FRAMES * frameS)
  const isAtEnds = isNearDamage(damagedS, firstS, frameS) || isNearDamage(damagedS, lastS, frameS)
  const damaged = withheld('damaged', DAMAGED_HERE)
  const told = (event: Estimate): Estimate => {
    if (event.kind === 'measured') return isNearDamage(damagedS, event.value, marginS) ? damaged : event
    const isLost =
      event.kind === 'withheld' && (event.reason === 'hidden' || (event.reason === 'clip-ends' && isAtEnds))
    return isLost ? damaged : event
  }
  const grounded = told(events.grounded)
  const isLandingLost = grounded.kind === 'withheld' && grounded.reason === 'damaged'
  return {
    ...events,
    tipStart: told(events.tipStart),
    grounded,
    bounceM: isLandingLost ? damaged : events.bounceM,
    groundedAngleRad: isLandingLost ? damaged : events.groundedAngleRad,
  }
}

function eventsOf(track: BoardTrack): BoardEvents {
  const curve = boardCurve(track)
  if (curve === null) return allWithheld(null, withheld('hidden', NOT_FOLLOWED))
  const fall = findFall(curve)
  if (fall === null) {
    const unseen = longestGap(curve)
    return unseen > LONG_GAP_S
      ? allWithheld(null, withheld('hidden', NOT_FOLLOWED))
      : allWithheld(false, withheld('never-tipped', 'The board never began to tip.'))
  }
  const guess = groundGuess(track)
  if (fall.wasDownAtStart && startsOnGround(curve, guess)) return allWithheld(true, withheld('clip-ends', STARTED_DOWN))
  const landed = seekLanding(curve, fall, guess)
  const isLanding = 'time' in landed
  const grounded: Estimate = isLanding ? landed.time : landed
  const tipStart = findTipStart(curve, isLanding ? landed.time.value : fall.downS, track.scaleSd)
  return {
    tipStart,
    grounded,
    bounceM: isLanding ? findBounce(curve, landed) : landed,
    moved: true,
    groundedAngleRad: isLanding ? groundAngle(track, landed) : landed,
  }
}

const NOT_FOLLOWED =
  'The board could not be followed for part of the clip; film it from the side with the whole board in the picture.'

function allWithheld(moved: boolean | null, why: Withheld): BoardEvents {
  return { tipStart: why, grounded: why, bounceM: why, moved, groundedAngleRad: why }
}

const STARTED_DOWN =
  'The board is already down when the clip begins: start filming before the dog gets on the board at rest.'

/** The first time the exit end is seen 50 mm down, and the highest turn from there on. */
interface Fall {
  readonly downS: number
  readonly topS: number
  readonly topRad: number
  /** True when no frame before shows the board up: the clip begins in the middle of it. */
  readonly wasDownAtStart: boolean
}

function findFall(curve: BoardCurve): Fall | null {
  const { timesS } = curve.readings
  const movedRad = turnForDrop(MOVED_M, curve.restRad, curve.lengthM)
  const isDown = (i: number): boolean => {
    const turn = curve.smooth.at(timesS[i]!)!
    return turn.x - 2 * Math.sqrt(turn.xx) > movedRad
  }
  // Two frames in a row: a single wild one is no fall.
  const isSurelyDown = (i: number): boolean => i + 1 < timesS.length && isDown(i) && isDown(i + 1)
  const isSurelyUp = (i: number): boolean => i + 1 < timesS.length && !isDown(i) && !isDown(i + 1)
  // A board still on its way back from the ride before is not falling yet.
  const up = timesS.findIndex((_, i) => isSurelyUp(i))
  const afterRest = up < 0 ? -1 : timesS.findIndex((_, i) => i > up && isSurelyDown(i))
  const first = afterRest >= 0 ? afterRest : timesS.findIndex((_, i) => isSurelyDown(i))
  if (first < 0) return null
  const downS = timesS[first]!
  let top = { topS: downS, topRad: 0 }
  for (let i = first; i < timesS.length; i++) {
    const topRad = curve.smooth.at(timesS[i]!)!.x
    if (topRad > top.topRad) top = { topS: timesS[i]!, topRad }
  }
  return { downS, ...top, wasDownAtStart: up < 0 || first < up }
}

/** True when the first frames show the board on the ground already. */
function startsOnGround(curve: BoardCurve, guess: GroundLevel): boolean {
  const { timesS } = curve.readings
  const start = curve.smooth.at(timesS[0]!)!
  const soon = curve.smooth.at(timesS[Math.min(3, timesS.length - 1)]!)!
  return Math.max(start.x, soon.x) > guess.turnRad - 3 * guess.sdRad || soon.x < start.x
}

function groundGuess(track: BoardTrack): GroundLevel {
  return { turnRad: -2 * track.restAngleRad, sdRad: Math.hypot(GROUND_SLOPE_SD_RAD, 2 * track.commonSdRad) }
}

/** The landing, or why there is none. */
function seekLanding(curve: BoardCurve, fall: Fall, guess: GroundLevel): Landing | Withheld {
  const level = groundLevel(curve, fall.downS, guess)
  const fallS = fallBegin(curve, fall.downS)
  if (level !== null) {
    const range = contactRange(curve, fall, level)
    const landing = findLanding(curve, fallS, range.fromS, range.toS, level)
    return landing ?? withheld('hidden', LANDING_UNSEEN)
  }
  const { timesS } = curve.readings
  const lastS = timesS[timesS.length - 1]!
  if (fall.topRad + betweenFramesRad(curve, fall) > guess.turnRad - 4 * guess.sdRad) {
    // The first time that it came about as far down as it ever did: a later hop may reach a hair further.
    const range = contactRange(curve, fall, { turnRad: fall.topRad, sdRad: NEAR_TOP_RAD })
    const landing = findLanding(curve, fallS, range.fromS, range.toS, guess)
    if (landing !== null && landing.touched > SURELY_TOUCHED) return landing
    if (landing !== null && landing.touched > MAYBE_TOUCHED && fall.topS < lastS - aFewFrames(curve)) {
      return withheld('not-clear', 'The exit end came close to the ground, but it is not clear whether it touched it.')
    }
  }
  const end = curve.smooth.at(lastS)!
  const cameBack = end.x < fall.topRad - CAME_BACK_RAD && end.v < HARDLY_FALLING_RADS
  if (mayHaveLandedUnseen(curve, fall, guess)) return withheld('hidden', LANDING_UNSEEN)
  if (cameBack)
    return withheld('never-landed', 'The board tipped but came back before its exit end touched the ground.')
  return lastS > curve.clipToS - Math.max(LONG_GAP_S, 3 * curve.frameS)
    ? withheld('clip-ends', 'The clip ends before the board lands; film until the dog has left the board.')
    : withheld('hidden', LANDING_UNSEEN)
}

/** How much further than its furthest frame the board may have come between two frames, rad. */
function betweenFramesRad(curve: BoardCurve, { topS }: Fall): number {
  const before = curve.smooth.at(topS - curve.frameS)
  return Math.max(before?.v ?? 0, 0) * curve.frameS
}

const LANDING_UNSEEN =
  'The board could not be followed when it landed; film from the side with nothing between camera and board.'

/** The last instant before the board is 50 mm down at which it was within a few mm of its rest, s. */
function fallBegin(curve: BoardCurve, downS: number): number {
  const { timesS } = curve.readings
  const lowRad = turnForDrop(FALLING_M, curve.restRad, curve.lengthM)
  let begin = timesS[0]!
  for (const timeS of timesS) {
    if (timeS >= downS) break
    if (curve.smooth.at(timeS)!.x < lowRad) begin = timeS
  }
  return begin
}

/**
 * From the last frame clearly above the ground (by more than a high bounce) to shortly after the first frame on it. One
 * wild frame in the middle of the fall is not the ground: one of the next two must be near it too.
 */
function contactRange(curve: BoardCurve, fall: Fall, level: GroundLevel): { fromS: number; toS: number } {
  const { timesS, places, variances } = curve.readings
  const nearRad = level.turnRad - HIGH_BOUNCE_RAD
  let fromS = fall.downS
  for (let i = 0; i < timesS.length; i++) {
    if (timesS[i]! < fall.downS) continue
    const onGround = places[i]! > level.turnRad - 3 * Math.hypot(Math.sqrt(variances[i]!), level.sdRad)
    const staysNear = Math.max(places[i + 1] ?? Infinity, places[i + 2] ?? Infinity) > nearRad
    if (onGround && staysNear) return { fromS, toS: timesS[i]! + aFewFrames(curve) }
    if (places[i]! < nearRad) fromS = timesS[i]!
  }
  return { fromS, toS: timesS[timesS.length - 1]! }
}

/** No exit end springs back higher than this, rad (8 deg, a quarter of a metre). */
const HIGH_BOUNCE_RAD = 0.14

/** A third of how far short of its deepest place a board may stop at its first contact, rad (a third of 0.7 deg). */
const NEAR_TOP_RAD = 0.004

function aFewFrames(curve: BoardCurve): number {
  return Math.max(FEW_S, FEW_FRAMES * curve.frameS)
}

/** True when the board was falling into a gap long enough to reach the ground, and was not seen down there after it. */
function mayHaveLandedUnseen(curve: BoardCurve, fall: Fall, guess: GroundLevel): boolean {
  const { timesS } = curve.readings
  for (let i = 1; i < timesS.length; i++) {
    const gapS = timesS[i]! - timesS[i - 1]!
    if (timesS[i]! < fall.downS || gapS < GAP_FRAMES * curve.frameS) continue
    const before = curve.smooth.at(timesS[i - 1]!)!
    if (before.v > 0 && before.x + before.v * gapS > guess.turnRad - 4 * guess.sdRad) return true
  }
  return false
}

function groundAngle(track: BoardTrack, landing: Landing): Estimate {
  const { turnRad, sdRad } = landing.ground
  return measured(track.restAngleRad + turnRad, Math.hypot(sdRad, track.commonSdRad, track.scaleSd * turnRad))
}

function longestGap(curve: BoardCurve): number {
  const times = [curve.clipFromS, ...curve.readings.timesS, curve.clipToS]
  return times.reduce((most, timeS, i) => Math.max(most, i === 0 ? 0 : timeS - times[i - 1]!), 0)
}

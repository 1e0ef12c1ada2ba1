import type { Board } from '../board/board.ts'
import { DAMAGED_HERE, isNearDamage } from '../clip/damage.ts'
import { DAMAGE_MARGIN_S } from '../dog/damaged-dog.ts'
import type { DogTrack, Footfall } from '../dog/dog-track.ts'
import { measured, withheld, Z95, type Estimate } from '../estimate.ts'
import { normalCdf, normalQuantile } from '../numeric/normal.ts'
import type { DownZoneResult, LeavingVerdict, RideEvents, ZoneResult, ZoneVerdict } from './ride.ts'

/** Sure enough for a verdict. */
const SURE = 0.9
/** No foot is placed better than to this, m, and no touch timed better than to this, s. */
const LEAST_SD_M = 0.01
const LEAST_SD_S = 0.005

/**
 * Whether paws touched each contact zone: from every footfall the probability that it is a paw and lies inside.
 *
 * @param dog footfalls in m along
 * @param board length and contact zones, m
 * @param events of the ride, s
 * @returns facts for both zones; the verdict is `unsure` where the footfalls do not decide, and instead of `missed`
 *   when the dog was not seen getting on (up) or off (down)
 */
export function judgeZones(
  dog: DogTrack,
  board: Pick<Board, 'lengthM' | 'contactM'>,
  events: RideEvents,
): { up: ZoneResult; down: DownZoneResult } {
  const { lengthM, contactM } = board
  const borderM = lengthM - contactM
  const hasGap = isInterrupted(dog, events)
  const isWhole = {
    up: !hasGap && events.firstOn.kind === 'measured',
    down: !hasGap && events.left.kind === 'measured' && !mayHaveSteppedOn(dog.footfalls, borderM, events.left.value),
  }
  const endS = isStillOn(events) ? (dog.ptsS[dog.ptsS.length - 1] ?? null) : null
  const up = judgeZone(dog, (f) => f.alongM - contactM, isWhole.up, endS)
  const down = judgeZone(dog, (f) => borderM - f.alongM, isWhole.down, endS)
  const touchedAfterGround = afterGround(dog.footfalls, borderM, isWhole.down, events)
  return { up, down: { ...down, touchedAfterGround } }
}

/** True when pictures are damaged or missing while the dog was on the plank: paws may have touched unseen. */
function isInterrupted({ damagedS }: DogTrack, { firstOn, left }: RideEvents): boolean {
  const fromS = firstOn.kind === 'measured' ? firstOn.value : -Infinity
  const toS = left.kind === 'measured' ? left.value : Infinity
  return damagedS?.some((span) => span.fromS < toS && span.toS > fromS) ?? false
}

function isStillOn({ left }: RideEvents): boolean {
  return left.kind === 'withheld' && left.reason === 'still-on'
}

/**
 * Shortest time in which a galloping paw swings forward, touches and lifts again, s, and furthest that it gets ahead of
 * the foremost paw meanwhile, m (common practice, no source).
 */
const QUICK_STEP_S = 0.13
const LONG_STEP_M = 1.2

/**
 * True when a paw may have touched the zone beyond `borderM` unseen: the dog was on the plank for longer than a quick
 * step, within a long step of the zone, with at most one paw known to stand.
 */
function mayHaveSteppedOn(feet: readonly Footfall[], borderM: number, leftS: number): boolean {
  const sure = feet.filter((f) => f.confidence > 0.5)
  const lifts = sure.map((f) => f.toS).sort((a, b) => b - a)
  const foremostM = sure.reduce((most, f) => Math.max(most, f.alongM), -Infinity)
  return leftS - (lifts[1] ?? -Infinity) > QUICK_STEP_S && borderM - foremostM < LONG_STEP_M
}

/** Signed distance from the zone's inner border, negative inside. */
type Beyond = (foot: Footfall) => number

/** `endS` is the clip's last frame when the dog is still on the plank then, else null. */
function judgeZone(dog: DogTrack, beyond: Beyond, isWhole: boolean, endS: number | null): ZoneResult {
  const { footfalls: feet, damagedS } = dog
  const timed = (atS: number, touch: Estimate): Estimate =>
    isNearDamage(damagedS, atS, DAMAGE_MARGIN_S) ? withheld('damaged', DAMAGED_HERE) : touch
  const nowhere = withheld('not-seen', 'No footfall was seen.')
  if (feet.length === 0) return { verdict: 'unsure', first: nowhere, last: nowhere, clearanceM: nowhere }
  const inside = (f: Footfall) => f.confidence * normalCdf(-beyond(f) / Math.max(LEAST_SD_M, f.alongSdM))
  const untouched = noneTouching(feet, (f) => f.confidence, beyond)
  const verdict: ZoneVerdict = untouched < 1 - SURE ? 'touched' : untouched > SURE && isWhole ? 'missed' : 'unsure'
  const likely = feet.filter((f) => inside(f) > 0.5)
  const sure = feet.filter((f) => f.confidence > 0.5)
  const deepest = (sure.length > 0 ? sure : feet).reduce((a, b) => (beyond(b) < beyond(a) ? b : a))
  const none = withheld('not-seen', 'No paw was seen to touch this zone.')
  const firstFoot = likely.reduce<Footfall | null>((a, b) => (a === null || b.fromS < a.fromS ? b : a), null)
  const lastFoot = likely.reduce<Footfall | null>((a, b) => (a === null || b.toS > a.toS ? b : a), null)
  return {
    verdict,
    first: firstFoot === null ? none : timed(firstFoot.fromS, measured(firstFoot.fromS, firstFoot.fromSdS)),
    last: lastFoot === null ? none : timed(lastFoot.toS, lastTouch(lastFoot, endS)),
    clearanceM: measured(beyond(deepest), deepest.alongSdM),
  }
}

/** A foot that stands in the clip's last frame touches at least until then. */
function lastTouch(foot: Footfall, endS: number | null): Estimate {
  return endS !== null && foot.toS > endS - 2 * Math.max(LEAST_SD_S, foot.toSdS)
    ? { kind: 'atLeast', value: Math.min(foot.toS, endS) }
    : measured(foot.toS, foot.toSdS)
}

/** Errors of place are looked at in this many equally likely steps. */
const STEPS = 40

/**
 * Probability that no foot touches the zone. All feet of a ride are misplaced alike (the same camera, the same line
 * across the plank), so ten feet just beside the border are no surer than one.
 */
function noneTouching(feet: readonly Footfall[], chance: (foot: Footfall) => number, beyond: Beyond): number {
  let sum = 0
  for (let step = 0; step < STEPS; step++) {
    const shift = normalQuantile((step + 0.5) / STEPS)
    sum += feet.reduce((none, f) => {
      const isInside = beyond(f) + shift * Math.max(LEAST_SD_M, f.alongSdM) < 0
      return isInside ? none * (1 - chance(f)) : none
    }, 1)
  }
  return sum / STEPS
}

function afterGround(
  feet: readonly Footfall[],
  borderM: number,
  isWhole: boolean,
  { grounded, left }: RideEvents,
): DownZoneResult['touchedAfterGround'] {
  if (grounded.kind !== 'measured') {
    const neverCame =
      grounded.kind === 'withheld' && (grounded.reason === 'never-tipped' || grounded.reason === 'never-landed')
    return neverCame ? 'no' : 'unsure'
  }
  if (left.kind === 'measured' && left.value + Z95 * Math.hypot(left.sd, grounded.sd) < grounded.value) return 'no'
  const standsAfter = (f: Footfall): number =>
    f.confidence * normalCdf((f.toS - grounded.value) / Math.max(LEAST_SD_S, Math.hypot(f.toSdS, grounded.sd)))
  const untouched = noneTouching(feet, standsAfter, (f) => borderM - f.alongM)
  return untouched < 1 - SURE ? 'yes' : untouched > SURE && isWhole ? 'no' : 'unsure'
}

/**
 * When the dog left, seen against the board's tip and landing (`words/definitions.ts`).
 *
 * @param events s
 * @param marginS left - grounded, s
 * @returns `too-close` when the margin's 95 % interval spans 0, `not-seen` when an event needed was not seen
 */
export function judgeLeaving(events: RideEvents, marginS: Estimate): LeavingVerdict {
  const { tipStart, grounded, left } = events
  if (marginS.kind === 'atLeast') return 'after-ground'
  if (left.kind !== 'measured') return 'not-seen'
  if (tipStart.kind === 'withheld' && tipStart.reason === 'never-tipped') return 'before-tip'
  if (marginS.kind === 'measured') {
    if (marginS.ci95[0] < 0 && marginS.ci95[1] > 0) return 'too-close'
    if (marginS.value > 0) return 'after-ground'
  } else if (!(grounded.kind === 'withheld' && grounded.reason === 'never-landed')) return 'not-seen'
  const isBeforeTip =
    tipStart.kind === 'measured' && tipStart.value - left.value > Z95 * Math.hypot(left.sd, tipStart.sd)
  return isBeforeTip ? 'before-tip' : 'before-ground'
}

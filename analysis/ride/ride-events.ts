import { DAMAGED_HERE, isNearDamage } from '../clip/damage.ts'
import type { Contact, DogTrack, Footfall } from '../dog/dog-track.ts'
import { measured, withheld, Z95, type Estimate } from '../estimate.ts'
import { seededRandom } from '../numeric/random.ts'
import { quantile } from '../numeric/robust.ts'
import type { BangResult } from '../sound/bang.ts'
import type { BoardEvents } from './board-events.ts'
import { curveAt, indexBefore } from './curve-reading.ts'
import type { RideEvents } from './ride.ts'

/** The events of a ride. */
export interface TimedRide {
  readonly events: RideEvents
  /** Where the landing's time comes from, a sentence; null when the picture alone gave it. */
  readonly soundNote: string | null
}

/** A dog that leaps off may set the board going; it tips at most this long afterwards, s. */
const LAST_PUSH_S = 0.3
const TIPPED_WITHOUT_DOG = withheld(
  'hidden',
  'The board tipped after the dog was last seen on it, so the dog must have left later: film it with nothing in front of it.',
)
/** The lead paw counts as settled while it stays within this of where it is at the landing, m. */
export const SETTLED_M = 0.1
const DRAWS = 300

/**
 * All events of one ride.
 *
 * @param board what the board did; @param dog on the same frames; @param sound the landing as heard, null without sound
 * @returns every event measured, or withheld with its reason
 */
export function timeRide(board: BoardEvents, dog: DogTrack, sound: BangResult | null): TimedRide {
  const firstOn = contactEstimate(dog.firstOn)
  const left = leftAt(dog, board.tipStart)
  const grounded = withSound(board.grounded, sound)
  return {
    soundNote: sound === null ? null : sound.why,
    events: {
      firstOn,
      tipStart: board.tipStart,
      grounded,
      settled: settledAt(dog, grounded, left),
      left,
      bangHeard:
        sound === null
          ? grounded.kind === 'measured'
            ? withheld('no-sound', 'The clip has no sound track.')
            : withheld('not-clear', 'No landing was seen to listen for.')
          : sound.heard,
    },
  }
}

/**
 * When the dog left. A board does not tip by itself: a dog last seen on it well before it tips was lost, not off.
 *
 * @param dog its last contact, s; @param tipStart s
 * @returns s; withheld as the contact is, or `hidden` when the board tipped after the dog was lost from sight
 */
export function leftAt(dog: DogTrack, tipStart: Estimate): Estimate {
  const left = contactEstimate(dog.lastOff)
  const isTooEarly =
    left.kind === 'measured' &&
    tipStart.kind === 'measured' &&
    tipStart.value - left.value > LAST_PUSH_S + 2 * Math.hypot(left.sd, tipStart.sd)
  return isTooEarly ? TIPPED_WITHOUT_DOG : left
}

/**
 * The time of a contact.
 *
 * @param contact seen, or not with its reason
 * @returns s, withheld for the contact's own reason
 */
export function contactEstimate(contact: Contact): Estimate {
  return contact.kind === 'seen' ? measured(contact.atS, contact.sdS) : withheld(contact.reason, contact.detail)
}

/** Seen and heard landing weighed by their variances, when the sound is clear and both agree. */
function withSound(grounded: Estimate, sound: BangResult | null): Estimate {
  if (grounded.kind !== 'measured' || sound === null || !sound.clear) return grounded
  const heard = sound.groundedFromSound
  if (heard.kind !== 'measured' || Math.abs(heard.value - grounded.value) > 3 * Math.hypot(heard.sd, grounded.sd)) {
    return grounded
  }
  const a = 1 / grounded.sd ** 2
  const b = 1 / heard.sd ** 2
  return measured((a * grounded.value + b * heard.value) / (a + b), 1 / Math.sqrt(a + b))
}

/**
 * When the lead paw came to where it stands at the landing: start of the longest stretch that ends there in which it
 * stays within 0.10 m. Draws over the curve's uncertainty give the interval; in each, the footfall that the paw came
 * with is an error with the chance its confidence leaves, and then the next footfall there counts.
 *
 * @param dog curves in m on times in s
 * @param grounded the landing, s
 * @param left s
 * @returns s; withheld with the landing, `left-before`, or `hidden` when the lead paw was not seen
 */
export function settledAt(dog: DogTrack, grounded: Estimate, left: Estimate): Estimate {
  if (grounded.kind !== 'measured') {
    return grounded.kind === 'withheld' ? grounded : withheld('not-seen', 'The landing was not seen.')
  }
  if (left.kind === 'measured' && left.value < grounded.value) {
    return withheld('left-before', 'The dog had left before the board landed.')
  }
  const atM = curveAt(dog.ptsS, dog.leadPawM, grounded.value)
  if (Number.isNaN(atM)) return withheld('hidden', 'The lead paw was not seen when the board landed.')
  const best = settleTime(dog, grounded.value, atM, SETTLED_M)
  if (best === null) return withheld('hidden', 'The lead paw was not seen long enough before the landing.')
  if (isNearDamage(dog.damagedS, best, ARRIVAL_S)) return withheld('damaged', DAMAGED_HERE)
  const random = seededRandom(7)
  const sdM = Math.hypot(
    CURVE_SD_M,
    CURVE_SHARE * (dog.leadPawSdM[Math.max(0, indexBefore(dog.ptsS, best))] || PAW_SD_M),
  )
  const frameS = (dog.ptsS[dog.ptsS.length - 1]! - dog.ptsS[0]!) / (dog.ptsS.length - 1)
  const sdS = Math.hypot(SWING_END_FRAMES * frameS, SWING_END_S)
  const steps = arrivals(dog, best, atM)
  const times: number[] = []
  for (let n = 0; n < DRAWS; n++) {
    const real = steps.findIndex((step) => random.uniform() < step.confidence)
    const drawn =
      real > 0
        ? best + steps[real]!.fromS - steps[0]!.fromS
        : settleTime(dog, grounded.value, atM, Math.max(LEAST_SETTLED_M, SETTLED_M + sdM * random.normal()))
    if (drawn !== null) times.push(Math.min(drawn + sdS * random.normal(), grounded.value))
  }
  const low = Math.min(quantile(times, 0.025), best - sdS)
  const high = Math.min(grounded.value, Math.max(quantile(times, 0.975), best + sdS))
  return { kind: 'measured', value: best, sd: (high - low) / (2 * Z95), ci95: [low, high] }
}

/**
 * The lead paw's place at the landing against its place before, 1 sd, m: what the curve's own error leaves beside the
 * share of it that both places do not have in common (our judgement), and that error where it is not known.
 */
const CURVE_SD_M = 0.035
const CURVE_SHARE = 0.6
const PAW_SD_M = 0.03
/** No draw calls a paw settled more narrowly than this, m. */
const LEAST_SETTLED_M = 0.02
/** How sharply the end of a paw's swing is seen, 1 sd: frames, and s. */
const SWING_END_FRAMES = 0.5
const SWING_END_S = 0.015

/** The footfall that a paw came with at an instant, and later ones that land at the same place. */
function arrivals(dog: DogTrack, atS: number, atM: number): Footfall[] {
  const there = dog.footfalls.filter((f) => Math.abs(f.alongM - atM) < SETTLED_M && f.limb !== 'hind')
  const own = there.findIndex((f) => Math.abs(f.fromS - atS) < ARRIVAL_S)
  return own < 0 ? [] : there.slice(own)
}

/** From coming within 0.10 m of its place to standing there a paw needs less than this, s. */
const ARRIVAL_S = 0.12

/** Latest time before the landing at which the lead paw came within `withinM`; null where the curve breaks off. */
function settleTime(dog: DogTrack, groundedS: number, atM: number, withinM: number): number | null {
  const { ptsS, leadPawM } = dog
  let k = indexBefore(ptsS, groundedS)
  if (k < 0) return null
  let laterS = groundedS
  let laterM = atM
  for (; k >= 0; k--) {
    const m = leadPawM[k]!
    if (Number.isNaN(m)) return laterS < groundedS ? laterS : null
    if (Math.abs(m - atM) > withinM) {
      const border = m < atM ? atM - withinM : atM + withinM
      const share = (laterM - border) / (laterM - m || 1)
      return laterS - Math.min(1, Math.max(0, share)) * (laterS - ptsS[k]!)
    }
    laterS = ptsS[k]!
    laterM = m
  }
  return laterS
}

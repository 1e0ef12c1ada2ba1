import type { BoardTrack } from '../board/board-track.ts'
import type { Contact, DogTrack } from '../dog/dog-track.ts'
import { measured, withheld, type Estimate, type Measured } from '../estimate.ts'
import { seededRandom } from '../numeric/random.ts'
import { quantile } from '../numeric/robust.ts'
import type { BangResult } from '../sound/bang.ts'
import { findBoardEvents, type BoardEvents } from './board-events.ts'
import { curveAt, indexBefore } from './curve-reading.ts'
import type { RideEvents } from './ride.ts'

/** The events of a ride and what else the board told. */
export interface TimedRide {
  readonly events: RideEvents
  readonly board: BoardEvents
  /** Where the landing's time comes from, a sentence; null when the picture alone gave it. */
  readonly soundNote: string | null
}

const NEVER_TIPPED = withheld('never-tipped', 'The dog was off before the board began to tip.')
/** The lead paw counts as settled while it stays within this of where it is at the landing, m (measures.md). */
const SETTLED_M = 0.1
const DRAWS = 300

/**
 * All events of one ride.
 *
 * @param track the board's angle; @param dog on the same frames; @param sound the landing as heard, null without sound
 * @returns every event measured, or withheld with its reason
 */
export function timeRide(track: BoardTrack, dog: DogTrack, sound: BangResult | null): TimedRide {
  const seen = findBoardEvents(track)
  const firstOn = contactEstimate(dog.firstOn)
  const left = contactEstimate(dog.lastOff)
  const baled =
    left.kind === 'measured' && seen.tipStart.kind === 'measured' && left.value + 2 * left.sd < seen.tipStart.value
  const board: BoardEvents = baled ? { ...seen, tipStart: NEVER_TIPPED, grounded: NEVER_TIPPED } : seen
  const grounded = withSound(board.grounded, sound)
  return {
    board,
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

function contactEstimate(contact: Contact): Estimate {
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
 * stays within 0.10 m. Draws over the curve's uncertainty give the interval.
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
  const random = seededRandom(7)
  const i = indexBefore(dog.ptsS, best.atS)
  const sdM = Math.hypot(0.012, 0.6 * (dog.leadPawSdM[Math.max(0, i)] || 0.03))
  const frameS = (dog.ptsS[dog.ptsS.length - 1]! - dog.ptsS[0]!) / (dog.ptsS.length - 1)
  const times: number[] = []
  for (let n = 0; n < DRAWS; n++) {
    const draw = settleTime(dog, grounded.value, atM, Math.max(0.02, SETTLED_M + sdM * random.normal()))
    if (draw !== null) times.push(draw.atS + 0.35 * frameS * random.normal() + 0.006 * random.normal())
  }
  const low = Math.min(quantile(times, 0.025), best.atS - 0.5 * frameS)
  const high = Math.min(grounded.value, Math.max(quantile(times, 0.975), best.atS + 0.5 * frameS))
  const settled: Measured = { kind: 'measured', value: best.atS, sd: (high - low) / 3.92, ci95: [low, high] }
  return settled
}

/** Latest time before the landing at which the lead paw came within `withinM`; null where the curve breaks off. */
function settleTime(dog: DogTrack, groundedS: number, atM: number, withinM: number): { atS: number } | null {
  const { ptsS, leadPawM } = dog
  let k = indexBefore(ptsS, groundedS)
  if (k < 0) return null
  let laterS = groundedS
  let laterM = atM
  for (; k >= 0; k--) {
    const m = leadPawM[k]!
    if (Number.isNaN(m)) return laterS < groundedS ? { atS: laterS } : null
    if (Math.abs(m - atM) > withinM) {
      const border = m < atM ? atM - withinM : atM + withinM
      const share = (laterM - border) / (laterM - m || 1)
      return { atS: laterS - Math.min(1, Math.max(0, share)) * (laterS - ptsS[k]!) }
    }
    laterS = ptsS[k]!
    laterM = m
  }
  return { atS: laterS }
}

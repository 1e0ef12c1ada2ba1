import type { ApproachMeasures } from '../approach/approach.ts'
import type { DogTrack } from '../dog/dog-track.ts'
import { measured, withheld, type Estimate } from '../estimate.ts'
import { curveAt, slopeAt } from './curve-reading.ts'
import type { Pause, RideEvents, RideMeasures } from './ride.ts'
import { strideOf } from './stride.ts'

/** A pause is slower than this for longer than that. */
export const PAUSE_MPS = 0.3
export const PAUSE_S = 0.15
/** A retreat of the body by more than this is turning back, m, beyond what the curve may wander. */
export const BACK_M = 0.2
const WANDER_M = 0.08
/** Body speed is taken over this long, s. */
const SPEED_SPAN_S = 0.2

/**
 * All measures of a ride on the plank from its events and curves, so that a corrected event changes all that depends on it.
 *
 * @param events times in s; @param dog the dog's curves in m; @param lengthM of the plank
 * @param bounceM from the board; @param clipEndS end of the last frame, s
 */
export function measureRide(
  events: RideEvents,
  dog: DogTrack,
  lengthM: number,
  bounceM: Estimate,
  clipEndS: number,
): Omit<RideMeasures, keyof ApproachMeasures> {
  const { tipStart, grounded, settled, left } = events
  const stillOn = left.kind === 'withheld' && left.reason === 'still-on' && grounded.kind === 'measured'
  const afterGround = stillOn
    ? ({ kind: 'atLeast', value: Math.max(0, clipEndS - grounded.ci95[1]) } as const)
    : difference(left, grounded)
  const span = onSpan(events, dog)
  return {
    leadPawAtTipM: placeAt(dog.ptsS, dog.leadPawM, dog.leadPawSdM, tipStart, 'The lead paw'),
    bodyAtTipM: placeAt(dog.ptsS, dog.bodyM, dog.bodySdM, tipStart, "The dog's body"),
    dropTimeS: difference(grounded, tipStart),
    holdBeforeGroundS:
      left.kind === 'measured' && grounded.kind === 'measured' && left.value < grounded.value
        ? withheld('left-before', 'The dog had left before the board landed.')
        : holdOf(grounded, settled),
    stayAfterGroundS: afterGround,
    leavingMarginS: afterGround,
    climbSpeedMps: climbSpeed(dog, lengthM),
    strideM: strideOf(dog.footfalls, lengthM),
    bounceM,
    pauses: span === null ? [] : pausesIn(dog, span.fromS, span.toS),
    turnedBack: span !== null && turnedBack(dog, span.fromS, span.toS),
  }
}

function difference(later: Estimate, earlier: Estimate): Estimate {
  if (later.kind === 'withheld') return later
  if (earlier.kind === 'withheld') return earlier
  if (later.kind !== 'measured' || earlier.kind !== 'measured') {
    return withheld('clip-ends', 'The clip does not show both ends of it.')
  }
  return measured(later.value - earlier.value, Math.hypot(later.sd, earlier.sd))
}

/** As a difference, but the settling's interval is not symmetric and a hold is not negative. */
function holdOf(grounded: Estimate, settled: Estimate): Estimate {
  const plain = difference(grounded, settled)
  if (plain.kind !== 'measured' || grounded.kind !== 'measured' || settled.kind !== 'measured') return plain
  const low = grounded.value - settled.ci95[1]
  const high = grounded.value - settled.ci95[0]
  const spread = 1.96 * grounded.sd
  return { ...plain, ci95: [Math.max(0, low - spread), high + spread] }
}

function placeAt(
  ptsS: Float64Array,
  curveM: Float64Array,
  sdsM: Float64Array,
  event: Estimate,
  what: string,
): Estimate {
  if (event.kind !== 'measured')
    return event.kind === 'withheld' ? event : withheld('not-seen', 'The event was not seen.')
  const value = curveAt(ptsS, curveM, event.value)
  if (Number.isNaN(value)) return withheld('hidden', `${what} was not seen when the board began to tip.`)
  const sd = curveAt(ptsS, sdsM, event.value)
  return measured(value, Math.hypot(Number.isNaN(sd) ? 0.05 : sd, slopeAt(ptsS, curveM, event.value) * event.sd, 0.008))
}

function onSpan(events: RideEvents, dog: DogTrack): { fromS: number; toS: number } | null {
  const known = Array.from(dog.ptsS).filter((_, k) => !Number.isNaN(dog.bodyM[k]!))
  if (known.length < 4) return null
  const fromS = events.firstOn.kind === 'measured' ? events.firstOn.value : known[0]!
  const toS = events.left.kind === 'measured' ? events.left.value : known[known.length - 1]!
  return { fromS, toS }
}

/** When the curve passes a place between frame `k` - 1 and frame `k`. */
function passingS(ptsS: Float64Array, curveM: Float64Array, k: number, placeM: number): number {
  const share = (placeM - curveM[k - 1]!) / (curveM[k]! - curveM[k - 1]!)
  return ptsS[k - 1]! + share * (ptsS[k]! - ptsS[k - 1]!)
}

/** A dog's first paw lands about this far ahead of its centre of mass: 0.25 m for a small dog, 0.6 m for a large one (common practice, no source). */
const FIRST_PAW_AHEAD_M = 0.45
const FIRST_PAW_AHEAD_SD_M = 0.13
/** Error of the body's place at the pivot, m. */
const AT_PIVOT_SD_M = 0.08

/** From the first touch of a paw, with the body behind it, to the body's passing of the pivot. */
function climbSpeed({ firstOn, ptsS, bodyM }: DogTrack, lengthM: number): Estimate {
  const unseen = withheld('not-seen', 'The dog was not followed from the entry end to the pivot.')
  if (firstOn.kind !== 'seen') return unseen
  const pivotM = lengthM / 2
  for (let k = 1; k < ptsS.length; k++) {
    if (ptsS[k]! <= firstOn.atS || !(bodyM[k - 1]! < pivotM && bodyM[k]! >= pivotM)) continue
    const spanS = passingS(ptsS, bodyM, k, pivotM) - firstOn.atS
    const spanM = pivotM - (firstOn.alongM - FIRST_PAW_AHEAD_M)
    if (spanS <= 0 || spanM < pivotM / 2) return unseen
    const spanSdM = Math.hypot(FIRST_PAW_AHEAD_SD_M, AT_PIVOT_SD_M, firstOn.alongSdM)
    return measured(spanM / spanS, (spanM / spanS) * Math.hypot(spanSdM / spanM, firstOn.sdS / spanS))
  }
  return unseen
}

function pausesIn(dog: DogTrack, fromS: number, toS: number): Pause[] {
  const { ptsS, bodyM } = dog
  const pauses: Pause[] = []
  let start = -1
  const close = (end: number) => {
    if (start >= 0 && ptsS[end]! - ptsS[start]! > PAUSE_S) {
      const middle = (start + end) >> 1
      pauses.push({ fromS: ptsS[start]!, toS: ptsS[end]!, bodyM: bodyM[middle]! })
    }
    start = -1
  }
  let last = 0
  for (let k = 0; k < ptsS.length; k++) {
    const t = ptsS[k]!
    if (t < fromS || t > toS || Number.isNaN(bodyM[k]!)) continue
    const before = curveAt(ptsS, bodyM, t - SPEED_SPAN_S / 2)
    const after = curveAt(ptsS, bodyM, t + SPEED_SPAN_S / 2)
    const slow = Math.abs(after - before) / SPEED_SPAN_S < PAUSE_MPS
    if (slow && start < 0) start = k
    if (!slow) close(Math.max(0, k - 1))
    last = k
  }
  close(last)
  return pauses
}

function turnedBack(dog: DogTrack, fromS: number, toS: number): boolean {
  let furthest = -Infinity
  for (let k = 0; k < dog.ptsS.length; k++) {
    const t = dog.ptsS[k]!
    const m = dog.bodyM[k]!
    if (t < fromS || t > toS || Number.isNaN(m)) continue
    furthest = Math.max(furthest, m)
    if (furthest - m > BACK_M + WANDER_M) return true
  }
  return false
}

import type { DogTrack, Footfall } from '../dog/dog-track.ts'
import { measured, withheld, type Estimate } from '../estimate.ts'
import { normalCdf } from '../numeric/normal.ts'
import type { DownZoneResult, LeavingVerdict, RideEvents, ZoneResult, ZoneVerdict } from './ride.ts'

/** Sure enough for a verdict. */
const SURE = 0.9

/**
 * Whether paws touched each contact zone.
 *
 * @param dog footfalls in m along; @param lengthM of the plank; @param contactM of each zone; @param grounded landing, s
 * @returns facts for both zones; the verdict is `unsure` where the footfalls do not decide
 */
export function judgeZones(
  dog: DogTrack,
  lengthM: number,
  contactM: number,
  grounded: Estimate,
): { up: ZoneResult; down: DownZoneResult } {
  const up = judgeZone(dog, (f) => f.alongM - contactM, dog.onAtStart, 'up')
  const down = judgeZone(dog, (f) => lengthM - contactM - f.alongM, false, 'down')
  return { up, down: { ...down, touchedAfterGround: afterGround(dog, lengthM - contactM, down.verdict, grounded) } }
}

/** Signed distance from the zone's inner border, negative inside. */
type Beyond = (foot: Footfall) => number

function judgeZone(dog: DogTrack, beyond: Beyond, mayHaveStarted: boolean, zone: 'up' | 'down'): ZoneResult {
  const feet = dog.footfalls
  const nowhere = withheld('not-seen', 'No footfall was seen.')
  if (feet.length === 0) return { verdict: 'unsure', first: nowhere, last: nowhere, clearanceM: nowhere }
  const inside = (f: Footfall) => f.confidence * normalCdf(-beyond(f) / Math.max(0.01, f.alongSdM))
  const untouched = feet.reduce((p, f) => p * (1 - inside(f)), 1)
  const verdict: ZoneVerdict =
    untouched < 1 - SURE
      ? 'touched'
      : untouched > SURE && !mayHaveStarted && !mayHaveMissed(dog, zone)
        ? 'missed'
        : 'unsure'
  const likely = feet.filter((f) => inside(f) > 0.5)
  const sure = feet.filter((f) => f.confidence > 0.5)
  const deepest = (sure.length > 0 ? sure : feet).reduce((a, b) => (beyond(b) < beyond(a) ? b : a))
  const none = withheld('not-seen', 'No paw was seen to touch this zone.')
  const firstFoot = likely.reduce<Footfall | null>((a, b) => (a === null || b.fromS < a.fromS ? b : a), null)
  const lastFoot = likely.reduce<Footfall | null>((a, b) => (a === null || b.toS > a.toS ? b : a), null)
  return {
    verdict,
    first: firstFoot === null ? none : measured(firstFoot.fromS, firstFoot.fromSdS),
    last: lastFoot === null ? none : measured(lastFoot.toS, lastFoot.toSdS),
    clearanceM: measured(beyond(deepest), deepest.alongSdM),
  }
}

/** A paw in a zone may have gone unseen when the dog was not seen getting on or off. */
function mayHaveMissed(dog: DogTrack, zone: 'up' | 'down'): boolean {
  const contact = zone === 'up' ? dog.firstOn : dog.lastOff
  return contact.kind === 'not-seen' && contact.reason !== 'still-on'
}

function afterGround(
  dog: DogTrack,
  borderM: number,
  verdict: ZoneVerdict,
  grounded: Estimate,
): DownZoneResult['touchedAfterGround'] {
  if (verdict === 'missed') return 'no'
  if (grounded.kind !== 'measured') {
    return grounded.kind === 'withheld' && (grounded.reason === 'never-tipped' || grounded.reason === 'never-landed')
      ? 'no'
      : 'unsure'
  }
  let untouched = 1
  for (const f of dog.footfalls) {
    const inside = normalCdf((f.alongM - borderM) / Math.max(0.01, f.alongSdM))
    const later = normalCdf((f.toS - grounded.value) / Math.max(0.005, Math.hypot(f.toSdS, grounded.sd)))
    untouched *= 1 - f.confidence * inside * later
  }
  return untouched < 1 - SURE ? 'yes' : untouched > SURE ? 'no' : 'unsure'
}

/**
 * When the dog left, seen against the board's tip and landing (table in measures.md).
 *
 * @param events times in s
 * @returns `too-close` when the 95 % interval of the margin spans 0, `not-seen` when an event needed was not seen
 */
export function judgeLeaving(events: RideEvents): LeavingVerdict {
  const { tipStart, grounded, left } = events
  if (tipStart.kind === 'withheld' && tipStart.reason === 'never-tipped') {
    return left.kind === 'measured' ? 'before-tip' : 'not-seen'
  }
  if (left.kind === 'withheld' && left.reason === 'still-on')
    return grounded.kind === 'measured' ? 'after-ground' : 'not-seen'
  if (left.kind !== 'measured') return 'not-seen'
  if (grounded.kind !== 'measured') {
    return grounded.kind === 'withheld' && grounded.reason === 'never-landed' ? 'before-ground' : 'not-seen'
  }
  const margin = left.value - grounded.value
  if (Math.abs(margin) < 1.96 * Math.hypot(left.sd, grounded.sd)) return 'too-close'
  return margin > 0 ? 'after-ground' : 'before-ground'
}

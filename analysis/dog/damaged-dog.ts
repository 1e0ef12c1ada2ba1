import { DAMAGED_HERE, isNearDamage, type DamagedSpan } from '../clip/damage.ts'
import type { Contact, DogTrack } from './dog-track.ts'

/** A touch that ends or begins so close to damage may really have lasted longer, s: within a quick dog's stride. */
export const DAMAGE_MARGIN_S = 0.2

/**
 * A dog's track without what was read off damaged pictures: curves stop there, footfalls that lie wholly in damage are
 * left out, and a first or last contact beside it is not seen.
 *
 * @param dog curves in m, times in s
 * @param damagedS where pictures are damaged or missing, s
 * @returns the same track when there are none
 */
export function withoutDamagedParts(dog: DogTrack, damagedS: readonly DamagedSpan[]): DogTrack {
  if (damagedS.length === 0) return dog
  const isLost = (atS: number) => isNearDamage(damagedS, atS, 0)
  const kept = (curve: Float64Array) => curve.map((value, k) => (isLost(dog.ptsS[k]!) ? NaN : value))
  const told = (contact: Contact, touchS: number): Contact => {
    // Where no picture is sound, no end of the plank is seen either.
    const isTimed = contact.kind === 'seen' || contact.reason === 'out-of-picture'
    const atS = contact.kind === 'seen' ? contact.atS : touchS
    return isTimed && isNearDamage(damagedS, atS, DAMAGE_MARGIN_S)
      ? { kind: 'not-seen', reason: 'damaged', detail: DAMAGED_HERE }
      : contact
  }
  const touches = dog.footfalls
  return {
    ...dog,
    leadPawM: kept(dog.leadPawM),
    leadPawSdM: kept(dog.leadPawSdM),
    rearPawM: kept(dog.rearPawM),
    rearPawSdM: kept(dog.rearPawSdM),
    bodyM: kept(dog.bodyM),
    bodySdM: kept(dog.bodySdM),
    footfalls: dog.footfalls.filter(
      ({ fromS, toS }) => !damagedS.some((span) => fromS >= span.fromS && toS <= span.toS),
    ),
    firstOn: told(dog.firstOn, Math.min(...touches.map(({ fromS }) => fromS))),
    lastOff: told(dog.lastOff, Math.max(...touches.map(({ toS }) => toS))),
    damagedS,
  }
}

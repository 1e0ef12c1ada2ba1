import type { DamagedSpan } from '../clip/damage.ts'

/** Where the dog is along the plank, one element a frame, and where its paws stood. */
export interface DogTrack {
  /** s of real time. */
  readonly ptsS: Float64Array
  /** Foremost front paw, planted or in the air, dropped perpendicularly on the plank, m; NaN where unknown. May be < 0 or > L. */
  readonly leadPawM: Float64Array
  readonly leadPawSdM: Float64Array
  /** Rearmost paw, m; NaN where unknown. */
  readonly rearPawM: Float64Array
  readonly rearPawSdM: Float64Array
  /** Body centre (centre of mass), m; NaN where unknown. */
  readonly bodyM: Float64Array
  readonly bodySdM: Float64Array
  readonly footfalls: readonly Footfall[]
  /** First instant any paw touches the plank in this stay. */
  readonly firstOn: Contact
  /** Last instant any paw touches the plank in this stay. */
  readonly lastOff: Contact
  /** True when the dog is still on the plank in the clip's last frame. */
  readonly stillOnAtEnd: boolean
  /** True when the dog is already on the plank in the clip's first frame. */
  readonly onAtStart: boolean
  /** Where pictures are damaged or missing; absent: nowhere. */
  readonly damagedS?: readonly DamagedSpan[]
}

/** Error of the rearmost paw's place beside its footfall's own, 1 sd, m (our judgement). */
export const REAR_PAW_SD_M = 0.02

/** A paw standing still on the plank. */
export interface Footfall {
  readonly alongM: number
  /** 1 sd, unknown place across the plank included. */
  readonly alongSdM: number
  readonly fromS: number
  readonly fromSdS: number
  readonly toS: number
  readonly toSdS: number
  readonly limb: 'front' | 'hind' | 'unknown'
  /** 0-1: how sure we are that it is a paw of the dog on the plank. */
  readonly confidence: number
}

export type Contact =
  | {
      readonly kind: 'seen'
      readonly atS: number
      readonly sdS: number
      readonly alongM: number
      readonly alongSdM: number
    }
  | {
      readonly kind: 'not-seen'
      readonly reason: 'clip-ends' | 'out-of-picture' | 'hidden' | 'still-on' | 'damaged'
      readonly detail: string
    }
